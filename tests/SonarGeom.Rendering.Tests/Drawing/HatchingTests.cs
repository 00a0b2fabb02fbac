using SonarGeom.Rendering.Drawing;

namespace SonarGeom.Rendering.Tests.Drawing;

public class HatchingTests
{
    [Theory]
    [InlineData(1, 0)]
    [InlineData(0, 1)]
    [InlineData(0.6, 0.8)]
    [InlineData(0.8, -0.6)]
    public void Strokes_fill_the_region_and_nothing_else(double dx, double dy)
    {
        // A ring: outer half-width 100, hole of half-width 40. Total stroke length times spacing approaches the area.
        const double spacing = 0.5;
        // The odd corner keeps the edges off the strokes.
        const double x0 = 3.13;
        const double y0 = 7.13;
        Outline ring = Outline.Rectangle(new(x0, y0, x0 + 200, y0 + 200))
            .AddRectangle(new(x0 + 60, y0 + 60, x0 + 140, y0 + 140));
        var strokes = new Outline();
        Hatching.AddStrokes(strokes, ring, dx, dy, spacing);
        double length = 0;
        for (int p = 0; p < strokes.PartCount; p++)
        {
            (int start, _, _) = strokes.Part(p);
            (double x1, double y1) = strokes.Point(start);
            (double x2, double y2) = strokes.Point(start + 1);
            length += Math.Sqrt(((x2 - x1) * (x2 - x1)) + ((y2 - y1) * (y2 - y1)));
            double mx = (0.5 * (x1 + x2)) - x0;
            double my = (0.5 * (y1 + y2)) - y0;
            Assert.True(mx is > 0 and < 200 && my is > 0 and < 200);
            Assert.False(mx is > 60.01 and < 139.99 && my is > 60.01 and < 139.99);
        }

        Assert.Equal(40000 - 6400, length * spacing, 0.005 * 33600);
    }

    [Fact]
    public void Strokes_of_neighbouring_regions_join()
    {
        var left = new Outline();
        var right = new Outline();
        Hatching.AddStrokes(left, Outline.Rectangle(new(0, 0, 50, 100)), 0.6, 0.8, 9);
        Hatching.AddStrokes(right, Outline.Rectangle(new(50, 0, 100, 100)), 0.6, 0.8, 9);
        var ends = Ends(left).Where(p => Math.Abs(p.X - 50) < 1e-9).Select(p => Math.Round(p.Y, 6)).Order().ToArray();
        var starts = Ends(right).Where(p => Math.Abs(p.X - 50) < 1e-9).Select(p => Math.Round(p.Y, 6)).Order().ToArray();
        Assert.NotEmpty(ends);
        Assert.Equal(ends, starts);

        static IEnumerable<(double X, double Y)> Ends(Outline o) => Enumerable.Range(0, o.PointCount).Select(o.Point);
    }
}
