using System.Collections.Immutable;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;

namespace SonarGeom.Rendering.Tests.Grids;

public class ContourTracerTests
{
    [Theory]
    [InlineData(0.05, 2e-3)]
    [InlineData(0.025, 5e-4)]
    public void A_cone_has_a_circle_for_its_contour(double step, double toleranceRadius)
    {
        // Linear interpolation of √(x²+y²) between centres is wrong by at most about step²/(8·radius) = 5e-4 for 0.05 and
        // radius 0.6; a chord error of the same size adds to it between the crossings.
        ValueGrid grid = Sample(step, (x, y) => Math.Sqrt((x * x) + (y * y)));
        ImmutableArray<ContourLine> lines = ContourTracer.Trace(grid, 0.6);
        ContourLine line = Assert.Single(lines);
        Assert.True(line.IsClosed);
        Assert.All(line.Points, p => Assert.InRange(Math.Sqrt((p.X * p.X) + (p.Y * p.Y)), 0.6 - toleranceRadius, 0.6 + toleranceRadius));
        double area = 0;
        for (int i = 0; i < line.Points.Length; i++)
        {
            PlotPoint a = line.Points[i];
            PlotPoint b = line.Points[(i + 1) % line.Points.Length];
            area += 0.5 * ((a.X * b.Y) - (b.X * a.Y));
        }

        Assert.Equal(Math.PI * 0.36, Math.Abs(area), 4 * toleranceRadius);
    }

    [Fact]
    public void A_slope_has_one_open_straight_line()
    {
        ValueGrid grid = Sample(0.1, (x, _) => x);
        ContourLine line = Assert.Single(ContourTracer.Trace(grid, 0.234));
        Assert.False(line.IsClosed);
        Assert.Equal(grid.Up.Count, line.Points.Length);
        Assert.All(line.Points, p => Assert.Equal(0.234, p.X, 12));
    }

    [Fact]
    public void Missing_values_cut_the_line_and_infinite_ones_do_not()
    {
        ValueGrid holed = Sample(0.1, (x, y) => Math.Abs(y) < 0.25 ? double.NaN : x);
        Assert.Equal(2, ContourTracer.Trace(holed, 0.23).Length);
        ValueGrid wall = Sample(0.1, (x, _) => x < 0 ? double.NegativeInfinity : 5);
        ContourLine line = Assert.Single(ContourTracer.Trace(wall, 0));
        Assert.All(line.Points, p => Assert.True(double.IsFinite(p.X)));
    }

    [Fact]
    public void A_mirrored_grid_has_the_mirrored_contour()
    {
        for (int seed = 0; seed < 50; seed++)
        {
            var random = new Random(seed);
            ValueGrid grid = Sample(0.25, (_, _) => Math.Round(random.NextDouble() * 8) / 8);
            string[] here = Crossings(ContourTracer.Trace(grid, 0.5), 1);
            string[] there = Crossings(ContourTracer.Trace(grid.Mirrored(), 0.5), -1);
            Assert.True(here.SequenceEqual(there), $"seed {seed}");
        }

        static string[] Crossings(ImmutableArray<ContourLine> lines, double sign) =>
        [
            .. lines.SelectMany(l => Steps(l, sign)).Order(StringComparer.Ordinal),
        ];

        static IEnumerable<string> Steps(ContourLine line, double sign)
        {
            int steps = line.IsClosed ? line.Points.Length : line.Points.Length - 1;
            for (int i = 0; i < steps; i++)
            {
                PlotPoint a = line.Points[i];
                PlotPoint b = line.Points[(i + 1) % line.Points.Length];
                string[] ends = [$"{(sign * a.X) + 1e-12:F9},{a.Y:F9}", $"{(sign * b.X) + 1e-12:F9},{b.Y:F9}"];
                Array.Sort(ends, StringComparer.Ordinal);
                yield return string.Join(' ', ends).Replace("-0.000000000", "0.000000000", StringComparison.Ordinal);
            }
        }
    }

    [Fact]
    public void A_level_that_is_no_number_is_refused() =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ContourTracer.Trace(Sample(0.5, (x, _) => x), double.NaN));

    private static ValueGrid Sample(double step, Func<double, double, double> value)
    {
        int half = (int)Math.Round(1 / step);
        var axis = new GridAxis(-half * step, step, (2 * half) + 1);
        var values = ImmutableArray.CreateBuilder<double>();
        for (int r = 0; r < axis.Count; r++)
        {
            for (int c = 0; c < axis.Count; c++)
            {
                values.Add(value(axis.Centre(c), axis.Centre(r)));
            }
        }

        return new(axis, axis, values.ToImmutable());
    }
}
