using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Bodies;

public class SilhouetteTests
{
    private static readonly Lazy<Silhouette> Walking = new(() => Silhouette.Of(Stride(Wearers.MedianMan, 16), 0.01));

    [Fact]
    public void Standing_silhouette_has_the_body_s_extents()
    {
        Body body = Wearers.MedianMan;
        Silhouette s = Silhouette.Of([body.Neutral], 0.005);
        Assert.Equal(body.CrownHeightMetres, s.TopMetres, 0.006);
        double widest = body.Segments.Max(p => body.Neutral.Mesh(p.Id).Vertices.Max(v => v.Y));
        Assert.Equal(widest, s.LeftMetres, 0.006);
        Assert.Equal(s.LeftMetres, -s.RightMetres);
        double foremost = body.Segments.Max(p => body.Neutral.Mesh(p.Id).Vertices.Max(v => v.X));
        Assert.Equal(foremost, s.ForemostMetres, 0.006);
        Assert.True(s.Inside(0, 1.3));
        Assert.False(s.Inside(0, 1.3 + body.CrownHeightMetres));
        Assert.False(s.Inside(5, 1));
        Assert.False(s.Inside(0, double.NaN));
        Assert.False(s.Inside(0, -0.01));
    }

    [Fact]
    public void Foremost_point_is_that_of_the_surface()
    {
        Body body = Wearers.MedianMan;
        Silhouette s = Silhouette.Of([body.Neutral], 0.004);
        foreach ((double y, double z) in new[] { (0.002, 1.202), (0.102, 1.302), (-0.05, 0.702), (0.002, 1.602) })
        {
            double farthest = double.NegativeInfinity;
            double cellY = (Math.Floor(y / 0.004) + 0.5) * 0.004;
            double cellZ = (Math.Floor(z / 0.004) + 0.5) * 0.004;
            foreach (BodySegment segment in body.Segments)
            {
                try
                {
                    farthest = Math.Max(farthest, SurfacePoint.Outermost(body.Neutral.Mesh(segment.Id), new Vec3(-5, cellY, cellZ), Vec3.UnitX).Position.X);
                }
                catch (InvalidOperationException)
                {
                    // This part is not on the line.
                }
            }

            Assert.Equal(farthest, s.ForemostXMetres(y, z)!.Value, 1e-9);
        }
    }

    [Fact]
    public void A_whole_stride_sweeps_a_mirror_symmetric_silhouette()
    {
        Silhouette s = Walking.Value;
        for (int j = 0; j < s.Rows; j++)
        {
            for (int i = 0; i < s.Columns; i++)
            {
                double? here = s.ForemostOfCellMetres(i, j);
                double? there = s.ForemostOfCellMetres(s.Columns - 1 - i, j);
                Assert.Equal(here is null, there is null);
                Assert.Equal(here ?? 0, there ?? 0, 1e-9);
            }
        }
    }

    [Fact]
    public void Walking_sweeps_more_than_standing()
    {
        Silhouette still = Silhouette.Of([Wearers.MedianMan.Still], 0.01);
        Assert.True(Walking.Value.AreaSquareMetres > 1.05 * still.AreaSquareMetres);
        Assert.True(Walking.Value.TopMetres > still.TopMetres);
        Assert.True(Walking.Value.ForemostMetres > still.ForemostMetres + 0.05);
        for (int j = 0; j < still.Rows; j++)
        {
            // What is ahead of the trunk when still is still covered by the sway at these heights.
            if (still.RowMetres(j) is > 0.95 and < 1.3)
            {
                Assert.True(Walking.Value.Inside(0.1, still.RowMetres(j)));
            }
        }
    }

    [Fact]
    public void Outlines_are_closed_round_the_same_area()
    {
        Silhouette s = Walking.Value;
        double area = 0;
        foreach (ImmutableArray<FrontalPoint> line in s.Outlines)
        {
            Assert.True(line.Length >= 4);
            for (int i = 0; i < line.Length; i++)
            {
                FrontalPoint a = line[i];
                FrontalPoint b = line[(i + 1) % line.Length];
                area += 0.5 * ((a.YMetres * b.ZMetres) - (b.YMetres * a.ZMetres));
            }
        }

        // Body to the left of the walker: the outer line counts positive and holes negative. Lines cut the cells' corners.
        Assert.Equal(s.AreaSquareMetres, area, 0.02 * s.AreaSquareMetres);
    }

    [Fact]
    public void Cane_is_left_out_and_the_wheelchair_is_not()
    {
        Body cane = Wearers.Build(Wearers.Varied["cane right"]);
        Assert.True(Silhouette.Of([cane.Neutral], 0.01).ForemostMetres < cane.Neutral.Mesh(SegmentId.Cane).Vertices.Max(v => v.X) - 0.4);
        Body chair = Wearers.Build(Wearers.Varied["manual wheelchair"]);
        Silhouette seated = Silhouette.Of([chair.Neutral], 0.01);
        double wheel = chair.Neutral.Mesh(SegmentId.Seat).Vertices.Max(v => v.Y);
        Assert.True(seated.Inside(wheel - 0.01, 0.2));
        Assert.False(seated.Inside(wheel + 0.02, 0.2));
    }

    [Fact]
    public void Nonsense_is_refused()
    {
        Assert.Throws<ArgumentException>(() => Silhouette.Of([], 0.01));
        Assert.Throws<ArgumentOutOfRangeException>(() => Silhouette.Of([Wearers.MedianMan.Still], 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => Silhouette.Of([Wearers.MedianMan.Still], double.NaN));
    }

    [Fact]
    public void Cane_coverage_ends_at_the_hand()
    {
        CaneCoverage cane = Wearers.MedianMan.CaneCoverage!;
        Assert.InRange(cane.TopMetres, 0.9, 1.05);
        Assert.True(cane.BandContains(0.27, 0.8));
        Assert.False(cane.BandContains(0.29, 0.1));
        Assert.False(cane.BandContains(0, cane.TopMetres + 0.01));
        Assert.True(cane.ShaftSweeps(0.27, 0));
        Assert.False(cane.ShaftSweeps(0.27, 0.5));
        Assert.Null(Wearers.Build(Wearers.Varied["manual wheelchair"]).CaneCoverage);
    }

    private static PosedBody[] Stride(Body body, int phases)
    {
        var motion = SwayEnvelope.Of(body, 0.8);
        return [.. Enumerable.Range(0, phases).Select(i => motion.PoseAt((double)i / phases))];
    }
}
