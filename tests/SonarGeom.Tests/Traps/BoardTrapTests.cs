using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Echoes;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Traps;

/// <summary>A flat board is a mirror: in the middle of the cone and unheard.</summary>
public class BoardTrapTests
{
    [Theory]
    [InlineData(0.5)]
    [InlineData(0.75)]
    [InlineData(1.0)]
    [InlineData(1.5)]
    [InlineData(2.0)]
    [InlineData(3.0)]
    public void A_board_turned_30_degrees_stays_in_the_beam_and_loses_25_dB(double range)
    {
        Obstacle square = Obstacle.Board("board", new Vec3(range, 0, 1), 0.3, 0.3);
        double facing = TrapBench.Echo(TrapBench.SmallPair, new Vec3(0, 0, 1), 0, square, null).Echo.BandLevelDecibels;
        foreach (double yaw in new[] { -30.0, 30.0 })
        {
            double turned = TrapBench.Echo(TrapBench.SmallPair, new Vec3(0, 0, 1), 0, square with { Yaw = Angle.FromDegrees(yaw) }, null).Echo.BandLevelDecibels;
            Assert.True(facing - turned >= 25, $"{range} m, {yaw}°: {facing} dB square-on, {turned} dB turned");
        }
    }

    [Fact]
    public void A_board_turned_30_degrees_at_one_and_a_half_metres_is_lost_to_every_part_up_to_45_dB()
    {
        Obstacle board = Obstacle.Board("board", new Vec3(1.5, 0, 1), 0.3, 0.3) with { Yaw = Angle.FromDegrees(30) };
        foreach (double figure in new[] { 25.0, 35, 45 })
        {
            PreparedTransducer part = TrapBench.Prepared(new CircularPiston(0.006541), figure, 0.026);
            LevelBudget budget = EchoExplainer.Explain(EchoBench.At(part, new Vec3(0, 0, 1)), board.Parts(null));
            Assert.True(budget.MarginDecibels < 0, $"figure of merit {figure} dB: margin {budget.MarginDecibels} dB");
            Assert.Equal(LimitingCause.Specular, budget.Cause);
        }
    }
}
