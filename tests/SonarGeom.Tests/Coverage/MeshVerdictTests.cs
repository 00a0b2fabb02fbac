using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Tests.Echoes.Facets;

namespace SonarGeom.Tests.Coverage;

public sealed class MeshVerdictTests
{
    private static readonly PosedLayout Man = CoverageBench.OnMan;

    [Fact]
    public void A_pole_of_sixteen_sides_gets_no_verdict_and_counts_as_a_danger()
    {
        VerdictBoard board = Board(Mesh(16));
        ObstacleVerdict verdict = board.Verdict(0);
        Assert.Equal((VerdictOutcome.Withheld, LimitingCause.MeshTooCoarse, true, true), (verdict.Outcome, verdict.Cause, verdict.IsOnCourse, verdict.IsDanger));
        Assert.Contains("too coarse", verdict.Withheld, StringComparison.Ordinal);
        Assert.Equal(0, verdict.WarningSeconds);
        Assert.False(board.CouldWarn(0, 0, [Man.Sensor(0, 0)]));
        Assert.Contains("no verdict", SonarGeom.Studies.Findings.InWords(verdict.Cause), StringComparison.Ordinal);
    }

    // On a walk it would be heard or not by an echo that nobody can tell: no chance of a warning may come of it.
    [Fact]
    public void A_pole_of_sixteen_sides_is_refused_in_trials_and_a_fine_one_is_not()
    {
        Assert.Contains("too coarse", Assert.Single(SonarGeom.Studies.TrialStudy.TooCoarse(Scene(Mesh(16)))), StringComparison.Ordinal);
        Assert.Empty(SonarGeom.Studies.TrialStudy.TooCoarse(Scene(Mesh(192))));

        static SonarGeom.Studies.Scenario Scene(Obstacle obstacle) => new(
            "for tests", string.Empty, [SonarGeom.Tests.Bodies.Wearers.MedianMan.Spec], CoverageBench.Standard,
            new ObstacleSet("for tests", string.Empty, null, [obstacle]), [CoverageBench.Branch], []);
    }

    [Fact]
    public void A_fine_pole_gets_the_verdict_of_the_pole_or_a_more_careful_one()
    {
        ObstacleVerdict mesh = Board(Mesh(192)).Verdict(0), pole = Board(Obstacle.Pole("pole", new Vec3(5, 0.1, 0), 0.075, 2)).Verdict(0);
        Assert.Equal((EchoEngine.SurfaceIntegral, EchoEngine.ClosedForm), (mesh.Engine, pole.Engine));
        Assert.Equal(pole.Outcome, mesh.Outcome);
        Assert.Equal(string.Empty, mesh.Withheld);

        // One step of the distances between them, two on the careful side: every second distance is looked at.
        Assert.InRange(mesh.FirstReliableMetres, pole.FirstReliableMetres - 0.25, pole.FirstReliableMetres + 0.11);
        Assert.Equal(pole.MarginAtNeedDecibels, mesh.MarginAtNeedDecibels, 1.5);
    }

    [Fact]
    public void A_mesh_hides_what_stands_behind_it_and_is_hidden_itself()
    {
        MeshShape board = MeshEchoTests.Shape("board", (Obstacle.Board("b", Vec3.Zero, 1.2, 1.9) with { DepthMetres = 0.02 }).Mesh());
        Obstacle screen = Obstacle.OfMesh("screen", new Vec3(4, 0, 1), board), behindIt = Obstacle.Board("behind", new Vec3(4.6, 0, 1.1), 0.5, 0.5);

        // Heard at last when the sensors are past the screen, which is too late.
        Assert.Equal(VerdictOutcome.WarnedInTime, Board(behindIt).Verdict(0).Outcome);
        ObstacleVerdict hidden = Board(behindIt, screen).Verdict(0);
        Assert.True(hidden.IsDanger && hidden.FirstReliableMetres < 0.6, $"{hidden.Outcome} from {hidden.FirstReliableMetres} m");
        MeshShape ball = MeshEchoTests.Shape("plate", (Obstacle.Board("b", Vec3.Zero, 0.2, 0.2) with { DepthMetres = 0.02 }).Mesh());
        Obstacle plate = Obstacle.OfMesh("plate", new Vec3(4.6, 0, 1.1), ball);
        Assert.True(Board(plate).MarginDecibels(0, 1, 0, 1.5) > -30);
        double alone = Best(Board(plate)), behind = Best(Board(plate, screen));
        Assert.True(alone > 0 && behind < 0, $"{alone} and {behind} dB");

        static double Best(VerdictBoard board) => Enumerable.Range(0, Man.SensorCount).Max(s => board.MarginDecibels(0, s, 0, 1.5));
    }

    [Fact]
    public void Closed_forms_of_a_mesh_are_refused() => Assert.Contains(
        "pole is a mesh, which has none",
        Assert.Throws<ArgumentException>(() => VerdictBoard.Of(
            Man, CoverageBench.Walk, CoverageBench.Coarse, new ObstacleSet("set", string.Empty, Ground.SmoothTile, [Mesh(192)]), EngineRequest.ClosedForm)).Message,
        StringComparison.Ordinal);

    // 0.6 dB is the error that is taken off, 0.5 dB what the engines may differ by for flats and corners, 0.5 dB the lesser of neighbours.
    [Fact]
    public void The_surface_integral_of_simple_shapes_decides_much_as_their_closed_forms_do()
    {
        var set = new ObstacleSet("set", string.Empty, Ground.SmoothTile,
        [
            Obstacle.Pole("pole", new Vec3(5, 0.1, 0), 0.075, 2), Obstacle.Board("board", new Vec3(5, 0, 1.2), 0.6, 0.5),
            Obstacle.Sphere("ball", new Vec3(5, 0, 1.1), 0.3), Obstacle.Wall("wall", new Vec3(5, 0, 0), 2, 1.9),
        ]);
        var closed = VerdictBoard.Of(Man, CoverageBench.Walk, CoverageBench.Coarse, set).Verdicts();
        var integral = VerdictBoard.Of(Man, CoverageBench.Walk, CoverageBench.Coarse, set, EngineRequest.SurfaceIntegral).Verdicts();
        for (int i = 0; i < closed.Length; i++)
        {
            Assert.Equal((EchoEngine.ClosedForm, EchoEngine.SurfaceIntegral), (closed[i].Engine, integral[i].Engine));
            Assert.InRange(integral[i].MarginAtNeedDecibels, closed[i].MarginAtNeedDecibels - 1.6, closed[i].MarginAtNeedDecibels);
            Assert.Equal(closed[i].Outcome, integral[i].Outcome);
        }
    }

    // An edge has no surface, a thin rod is none that the integral holds for; a corner counts by its bounces on the ground alone.
    [Fact]
    public void What_has_no_surface_or_is_too_thin_keeps_its_closed_form()
    {
        var parts = IntegralParts.Of(
            [.. Obstacle.Bar("wire", Vec3.UnitX, 0.008, 1).Parts(null), .. Obstacle.KerbUp("kerb", Vec3.UnitX, 0.12, 2).Parts(Ground.SmoothTile)], 343.0 / 42000, 343.0 / 38000);
        Assert.Contains(parts, p => p is CylinderPart);
        Assert.Contains(parts, p => p is MeshPart { IsCornerOnly: true, FloorRoughnessRmsMetres: not null });
        Assert.Contains(parts, p => p is MeshPart { IsCornerOnly: false, FloorRoughnessRmsMetres: null });
    }

    private static VerdictBoard Board(params Obstacle[] obstacles) => VerdictBoard.Of(
        Man, CoverageBench.Walk, CoverageBench.Coarse, new ObstacleSet("set", string.Empty, Ground.SmoothTile, [.. obstacles]));

    private static Obstacle Mesh(int sides) => Obstacle.OfMesh("pole", new Vec3(5, 0.1, 0), MeshEchoTests.Shape("pole", MeshEchoTests.Round(sides)));
}
