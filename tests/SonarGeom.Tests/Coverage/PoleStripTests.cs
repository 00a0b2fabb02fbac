using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Tests.Coverage;

public sealed class PoleStripTests
{
    // The strip and the verdict look at the same pole by different ways: contact by the map's prism against contact by rays, steps of
    // 0.2 m refined to 25 mm against steps of 0.1 m. They may differ by one step of the verdict and by the step that the strip is
    // set back from the foremost body point of its prism (the pole is round, the prism is not).
    [Fact]
    public void A_pole_in_the_strip_is_warned_of_as_a_pole_of_an_obstacle_set()
    {
        ApproachStrip strip = new ApproachMapper(CoverageBench.OnMan, CoverageBench.Walk, CoverageBench.Coarse).PoleStrip(0.075);
        int compared = 0;
        for (int i = 0; i < strip.Count; i++)
        {
            if (Math.Abs(strip.YMetres(i)) < 0.20)
            {
                ObstacleVerdict verdict = CoverageBench.Verdict(
                    CoverageBench.OnMan, Obstacle.Pole("pole", new Vec3(6, strip.YMetres(i), 0), 0.075, 2.5));
                double distance = strip.WarningSeconds[i] * CoverageBench.Walk.SpeedMetresPerSecond;
                Assert.InRange(distance, verdict.FirstReliableMetres - 0.15, verdict.FirstReliableMetres + 0.15);
                compared++;
            }
        }

        Assert.True(compared >= 4);
    }

    [Fact]
    public void Mirrored_layouts_have_mirrored_strips()
    {
        ApproachStrip strip = new ApproachMapper(CoverageBench.OnMan, CoverageBench.Walk, CoverageBench.Coarse).PoleStrip(0.025);
        PosedLayout other = CoverageBench.OnMan.WithLayout(CoverageBench.Mirrored(CoverageBench.Standard));
        ApproachStrip mirror = new ApproachMapper(other, CoverageBench.Walk, CoverageBench.Coarse).PoleStrip(0.025);
        for (int i = 0; i < strip.Count; i++)
        {
            int j = strip.Count - 1 - i;
            Assert.Equal((strip.InSilhouette[i], strip.WarningSeconds[i], strip.Causes[i]), (mirror.InSilhouette[j], mirror.WarningSeconds[j], mirror.Causes[j]));
        }
    }

    [Fact]
    public void Shares_count_the_width_of_the_silhouette_only()
    {
        var strip = new ApproachStrip(
            "drawn", string.Empty, 0.1, -0.15, [false, true, true, true], [9, 3, 0, 1], [9, 3, 2, 1],
            [LimitingCause.None, LimitingCause.None, LimitingCause.Specular, LimitingCause.TooLate], [0, 0, -1, 0], ["one"], 1.9);
        Assert.Equal(1 / 3.0, strip.WarnedFraction, 12);
        Assert.Equal(2 / 3.0, strip.HeldFraction, 12);
        Assert.Equal(0.05, strip.YMetres(2), 12);
    }
}
