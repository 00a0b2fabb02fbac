using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes;

public class LevelBudgetTests
{
    private static readonly PreparedTransducer Wide = new(EchoBench.WithFigureOfMerit(new CircularPiston(0.0065), 29), EchoBench.Medium);
    private static readonly PreparedTransducer Strong = new(EchoBench.WithFigureOfMerit(new CircularPiston(0.0065), 45), EchoBench.Medium);

    public static TheoryData<int> Seeds => [.. Enumerable.Range(0, 60)];

    [Theory]
    [MemberData(nameof(Seeds))]
    public void The_lines_add_up_to_the_echo_level(int seed)
    {
        var random = new Random(seed);
        Obstacle obstacle = RandomObstacles.Any(random);
        SensorAtPose sensor = EchoBench.At(Strong, new Vec3(0, 0, 0.5 + random.NextDouble()), 60 * (random.NextDouble() - 0.5), 60 * (random.NextDouble() - 0.5));
        LevelBudget budget = EchoExplainer.Explain(sensor, obstacle.Parts(Ground.SmoothTile));
        Assert.True(Math.Abs(budget.SumOfLinesDecibels - budget.EchoLevelDecibels) < 1e-9, $"seed {seed}: {budget}");
        Assert.Equal(budget.EchoLevelDecibels - Math.Max(budget.ThresholdDecibels, budget.NoiseDecibels), budget.MarginDecibels, 1e-9);
        Assert.Equal(budget.IsDetected, budget.MarginDecibels >= 0 && budget.RangeMetres >= budget.DeadZoneMetres && budget.RangeMetres <= budget.WindowRangeMetres);
    }

    [Fact]
    public void A_sphere_in_open_air_has_the_lines_of_the_sonar_equation()
    {
        // By hand: 10 cm radius, 2 m to the surface, on the boresight, transmitter and receiver together.
        PreparedTransducer prepared = new(EchoBench.WithFigureOfMerit(new CircularPiston(0.0065), 50, separation: 0), EchoBench.Medium);
        LevelBudget budget = EchoExplainer.Explain(EchoBench.At(prepared, Vec3.Zero), [new SpherePart("ball", new Vec3(2.1, 0, 0), 0.1, 3)]);
        Assert.Equal(-12.0412, budget.SpreadingDecibels, 1e-3);
        Assert.Equal(-4 * prepared.AbsorptionDecibelsPerMetre, budget.AbsorptionDecibels, 1e-9);
        Assert.Equal(0, budget.TransmitBeamDecibels, 1e-9);
        Assert.Equal(-3, budget.MaterialDecibels);

        // TS = 20 log( (R/2)·a/(a + R) ) = R = 2, a = 0.1 → 0.0476 m; the exact series adds −0.006 dB at ka 73.
        Assert.Equal(20 * Math.Log10(0.1 / 2.1), budget.TargetStrengthDecibels, 0.02);
        Assert.Equal(LimitingCause.None, budget.Cause);
    }

    [Fact]
    public void Each_cause_is_named_when_it_is_the_one()
    {
        Assert.Equal(LimitingCause.DeadZone, Cause(Strong, 0, new SpherePart("near", new Vec3(0.15, 0, 0), 0.05)));
        Assert.Equal(LimitingCause.OutsideListeningWindow, Cause(
            new PreparedTransducer(Strong.Transducer with { ListeningWindowSeconds = 6e-3 }, EchoBench.Medium), 0, Wall(2)));
        Assert.Equal(LimitingCause.OutOfBeam, Cause(Strong, 70, new SpherePart("aside", new Vec3(1, 0, 0), 0.05)));
        Assert.Equal(LimitingCause.TooWeak, Cause(Wide, 0, new SpherePart("far", new Vec3(6, 0, 0), 0.05)));
        Assert.Equal(LimitingCause.Specular, Cause(Wide, 0, Obstacle.Board("board", new Vec3(1.5, 0, 0), 0.3, 0.3) with { Yaw = Angle.FromDegrees(30) }));
        Assert.Equal(LimitingCause.None, Cause(Wide, 0, Wall(2)));
    }

    [Fact]
    public void What_is_heard_before_masks_what_is_heard_and_only_that()
    {
        SensorAtPose sensor = EchoBench.At(Wide, Vec3.Zero);
        ImmutableArray<TargetPart> heard = [Wall(2)];
        Assert.Equal(LimitingCause.MaskedByFloor, EchoExplainer.Explain(sensor, heard, default, new EchoSurroundings(FloorCrossingMetres: 1)).Cause);
        Assert.Equal(LimitingCause.None, EchoExplainer.Explain(sensor, heard, default, new EchoSurroundings(FloorCrossingMetres: 3)).Cause);
        Assert.Equal(LimitingCause.MaskedByOwnLimb, EchoExplainer.Explain(sensor, heard, default, new EchoSurroundings(OwnLimbCrossingMetres: 1)).Cause);
        ImmutableArray<TargetPart> weak = [new SpherePart("far", new Vec3(6, 0, 0), 0.05)];
        Assert.Equal(LimitingCause.TooWeak, EchoExplainer.Explain(sensor, weak, default, new EchoSurroundings(FloorCrossingMetres: 1)).Cause);
    }

    [Fact]
    public void The_definition_of_the_cause_holds_for_losses_one_by_one()
    {
        FactorLoss[] losses = [new(LimitingCause.OutOfBeam, 8), new(LimitingCause.Specular, 5), new(LimitingCause.TooWeak, 0)];
        Assert.Equal(LimitingCause.OutOfBeam, EchoExplainer.CauseOf(losses, -6));
        Assert.Equal(LimitingCause.OutOfBeam, EchoExplainer.CauseOf(losses, -20));
        Assert.Equal(LimitingCause.None, EchoExplainer.CauseOf(losses, 0));
        FactorLoss[] hidden = [new(LimitingCause.DeadZone, double.PositiveInfinity), new(LimitingCause.OutOfBeam, 8)];
        Assert.Equal(LimitingCause.DeadZone, EchoExplainer.CauseOf(hidden, 3));
    }

    private static PlanePart Wall(double range) => new("wall", new Vec3(range, 0, 0), -Vec3.UnitX);

    private static LimitingCause Cause(PreparedTransducer prepared, double azimuth, TargetPart part) =>
        EchoExplainer.Explain(EchoBench.At(prepared, Vec3.Zero, azimuth), [part]).Cause;

    private static LimitingCause Cause(PreparedTransducer prepared, double azimuth, Obstacle obstacle) =>
        EchoExplainer.Explain(EchoBench.At(prepared, Vec3.Zero, azimuth), obstacle.Parts(null)).Cause;
}
