using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Echoes.Facets;

namespace SonarGeom.Tests.Coverage;

/// <summary>Margins that are computed when asked for: what is asked first must not matter, and no more may be asked than decides.</summary>
public sealed class VerdictBoardTests
{
    private static readonly PosedLayout Eight = CoverageBench.Pose(CoverageBench.Standard, phases: 8);

    [Theory]
    [InlineData(HoldRule.DeadZone)]
    [InlineData(HoldRule.TimeNeeded)]
    public void The_short_question_has_the_answer_of_the_whole_verdict(HoldRule hold)
    {
        int warned = 0, asked = 0;
        for (int seed = 0; seed < 3; seed++)
        {
            ObstacleSet set = Things(new Random(seed));
            VerdictBoard first = Board(set, hold), second = Board(set, hold);
            var changed = Eight.WithSensor(seed % 4, CoverageBench.Sensor("other", "chest left", (10 * seed) - 25, 5));
            (VerdictBoard Short, VerdictBoard Whole)[] pairs =
            [
                (first, second),
                (first.WithLoss(seed % 4, 12), second.WithLoss(seed % 4, 12)),
                (first.WithLoss(seed % 4, double.PositiveInfinity), second.WithLoss(seed % 4, double.PositiveInfinity)),
                (first.WithLayout(seed % 4, changed), second.WithLayout(seed % 4, changed)),
            ];
            foreach ((VerdictBoard one, VerdictBoard whole) in pairs)
            {
                // The whole verdicts of one board, the short answers of the other, then its verdicts too.
                var verdicts = whole.Verdicts();
                Assert.Equal(verdicts.Select(v => v.Outcome == VerdictOutcome.WarnedInTime), one.WarnedInTime());
                Assert.Equal(verdicts.ToArray(), one.Verdicts().ToArray());
                warned += one.WarnedInTime().Count(w => w);
                asked += verdicts.Length;
            }
        }

        Assert.InRange(warned, asked / 10, asked * 9 / 10);
    }

    // Off the body's shadow and of other obstacles the first look knows more than the whole verdict: it may never say no alone.
    [Fact]
    public void What_could_not_warn_at_a_first_look_does_not()
    {
        int no = 0;
        for (int seed = 0; seed < 6; seed++)
        {
            ObstacleSet set = Things(new Random(100 + seed));
            VerdictBoard board = Board(set, HoldRule.TimeNeeded);
            foreach (double tilt in (double[])[-30, -10, 20])
            {
                var placement = CoverageBench.Sensor("brow", "brow", 0, tilt);
                PosedLayout changed = Eight.WithSensor(0, placement);
                for (int i = 0; i < board.ObstacleCount; i++)
                {
                    if (!board.CouldWarn(i, 0, Eight.BarePoses(placement)))
                    {
                        no++;
                        Assert.False(board.WouldWarn(i, 0, changed), $"seed {seed}, {board.ObstacleAt(i).Id}, tilt {tilt}");
                    }
                }
            }
        }

        Assert.True(no > 5, $"{no} refused");
    }

    private static ObstacleSet Things(Random random)
    {
        Obstacle block = Obstacle.Box("b", Vec3.Zero, 0.2, 0.5, 0.3 + (0.9 * random.NextDouble()));
        return new ObstacleSet("set", string.Empty, Ground.SmoothTile,
        [
            Obstacle.OfMesh("block", At(0), MeshEchoTests.Shape("block", block.Mesh())) with { Yaw = Angle.FromDegrees(40 * (random.NextDouble() - 0.5)) },
            Obstacle.Pole("pole", At(0), 0.02 + (0.1 * random.NextDouble()), 2),
            Obstacle.Bar("branch", At(1.3 + (0.5 * random.NextDouble())), 0.03, 0.8),
            Obstacle.Sphere("ball", At(0.3 + (1.3 * random.NextDouble())), 0.1),
        ]);

        Vec3 At(double z) => new(4 + random.NextDouble(), 0.5 * (random.NextDouble() - 0.5), z);
    }

    private static VerdictBoard Board(ObstacleSet set, HoldRule hold) => VerdictBoard.Of(Eight, CoverageBench.Walk with { StridePhases = 8, Hold = hold }, CoverageBench.Coarse, set);
}
