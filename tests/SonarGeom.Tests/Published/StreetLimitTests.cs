using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Bodies;
using SonarGeom.Tests.Coverage;

namespace SonarGeom.Tests.Published;

/// <summary>Published limits for objects that protrude over walkways, against the wearers for whom they were made.</summary>
public class StreetLimitTests
{
    // ADA 2010 Standards 307.4 and PROWAG R402.4: 80 in (2030 mm) of clear height.
    private const double ClearHeightMetres = 2.030;

    // ADA 2010 Standards 307.2 and 307.3, PROWAG R402: what begins above 27 in (685 mm) is not found by the cane.
    private const double CaneDetectableMetres = 0.685;

    private static readonly Lazy<PosedLayout> TallMan = new(() => CoverageBench.Pose(
        CoverageBench.Layout(CoverageBench.Sensor("brow", "brow", 0, 0)),
        Wearers.Build(Wearers.Man with { Name = "tall man", StaturePercentile = 95, FootwearMetres = 0.025 })));

    // P95 male stature of the army survey, 25 mm of shoe and 23 mm of bounce at the pelvis make 1918 mm (computed from the
    // survey's percentile and a vertical excursion of 46 mm from trough to crest). Here the bounce depends on the speed, 0.8 m/s:
    // 27 to 48 mm from 0.7 to 1.6 m/s (Orendurff 2004), so half of it is 14 to 24 mm. Tolerance: 10 mm of that and 10 mm of raster.
    [Fact]
    public void The_tall_man_walks_just_under_two_metres()
    {
        Assert.Equal(1.918, TallMan.Value.Silhouette.TopMetres, 0.020);
        Assert.InRange(ClearHeightMetres - TallMan.Value.Silhouette.TopMetres, 0.09, 0.14);
    }

    [Fact]
    public void The_head_band_of_the_tall_man_reaches_to_the_clear_height()
    {
        // Crown with footwear and 100 mm above it: the legal limit lies inside the band's border, not above it by much.
        Assert.Equal(ClearHeightMetres, TallMan.Value.TopMetres, 0.06);
    }

    [Fact]
    public void A_sign_at_the_legal_clear_height_is_passed_under_and_one_below_the_crown_is_hit()
    {
        Obstacle Sign(double lowerEdge) => Obstacle.Board("sign", new Vec3(6, 0, lowerEdge + 0.2), 0.8, 0.4);
        Assert.False(CoverageBench.Verdict(TallMan.Value, Sign(ClearHeightMetres)).IsOnCourse);
        ObstacleVerdict low = CoverageBench.Verdict(TallMan.Value, Sign(TallMan.Value.Body.CrownHeightMetres - 0.02));
        Assert.Equal((true, HeightBand.Head), (low.IsOnCourse, low.LowBand));

        // ADA 2010 307.4, exception: door closers and stops may hang at 78 in (1980 mm); still above the tall man.
        Assert.False(CoverageBench.Verdict(TallMan.Value, Sign(1.980)).IsOnCourse);

        // What a stair's underside leaves at 1.85 m is hit: 307.4 asks for a barrier there.
        Assert.True(CoverageBench.Verdict(TallMan.Value, Sign(1.85)).IsOnCourse);
    }

    // ADA 2010 307: what starts at or below 685 mm is met by the shaft of the cane, whose grip is above it.
    [Theory]
    [InlineData(Sex.Male, 5)]
    [InlineData(Sex.Male, 95)]
    [InlineData(Sex.Female, 5)]
    [InlineData(Sex.Female, 50)]
    public void An_edge_at_the_cane_detectable_height_lies_inside_the_cane_band(Sex sex, double percentile)
    {
        Body body = Wearers.Build(new WearerSpec { Name = "walker", Sex = sex, StaturePercentile = percentile, CaneSide = BodySide.Right });
        CaneCoverage cane = body.CaneCoverage!;
        Assert.True(cane.BandContains(0, CaneDetectableMetres));
        Assert.True(cane.ShaftSweeps(0, CaneDetectableMetres));
        Assert.False(cane.BandContains(0, body.Bands.Head.BottomMetres), "the cane never covers the head band");
        Assert.InRange(cane.TopMetres, CaneDetectableMetres, 1.2);
    }

    // ADA 2010 307.2: wall-mounted objects between 685 and 2030 mm may stand out 100 mm (4 in). With its wall 0.4 m from the middle of
    // the path such an object reaches to 0.3 m: inside the widest half of the walking man (shoulder breadth and sway).
    [Fact]
    public void A_legal_projection_touches_whoever_walks_along_the_wall()
    {
        PosedLayout man = CoverageBench.OnMan;
        Obstacle Cabinet(double inner) => Obstacle.Box("cabinet", new Vec3(6, inner + 0.05, CaneDetectableMetres + 0.01), 0.4, 0.10, 0.6);
        Assert.True(CoverageBench.Verdict(man, Cabinet(man.HalfWidthMetres - 0.05)).IsOnCourse);
        Assert.False(CoverageBench.Verdict(man, Cabinet(man.HalfWidthMetres + 0.05)).IsOnCourse);
    }

    // ADA 2010 307.3: a sign may overhang its post by 305 mm (12 in); PROWAG R402.3.1 allows 100 mm. The long cane's arc is
    // about the shoulder width and 25 mm beyond on each side (0.28 m): the older limit leaves a head that the cane has not cleared.
    [Fact]
    public void A_sign_that_overhangs_its_post_by_a_foot_meets_the_head_though_the_post_is_passed()
    {
        PosedLayout man = CoverageBench.OnMan;
        double post = man.HalfWidthMetres + 0.10;
        Assert.False(CoverageBench.Verdict(man, Obstacle.Pole("post", new Vec3(6, post, 0), 0.076, 2.5)).IsOnCourse);
        double inner = post - 0.038 - 0.305;
        ObstacleVerdict sign = CoverageBench.Verdict(man, Obstacle.Board("sign", new Vec3(6, inner + 0.2, 1.6), 0.4, 0.5));
        Assert.Equal((true, HeightBand.Head, HazardSide.Left), (sign.IsOnCourse, sign.HighBand, sign.Side));
    }
}
