using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Files;
using SonarGeom.Files.Tables;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Cli.Results;

/// <summary>The answer for one case.</summary>
/// <param name="Row">Its budget.</param>
/// <param name="FloorMetres">Range from which the bare ground is reported, or null. [m]</param>
/// <param name="FloorMarginDecibels">Largest margin of the bare ground. [dB]</param>
/// <param name="Parts">Every part by itself.</param>
internal sealed record CaseAnswer(BudgetRow Row, double? FloorMetres, double FloorMarginDecibels, ImmutableArray<PartRow> Parts);

/// <summary>One part by itself.</summary>
internal readonly record struct PartRow(TargetPart Part, PartEcho Echo, double MarginDecibels);

/// <summary>The tables beside a budget.</summary>
internal static class CaseTables
{
    /// <summary>Gets the floor.</summary>
    internal static ResultTable<CaseAnswer> Floor { get; } = new(
        new("ground_reported_from_m", null, a => Cell.Of(a.FloorMetres, 3)),
        new("ground_margin_db", null, a => Cell.Of(a.FloorMarginDecibels > -250 ? a.FloorMarginDecibels : null, 2)));

    /// <summary>Gets the parts.</summary>
    internal static ResultTable<PartRow> Parts { get; } = new(
        new("part", "part", r => Cell.Of(r.Part.Name)),
        new("echo_level_db_re_20upa", "echo [dB]", r => Cell.Of(r.Echo.IsSilent ? null : r.Echo.BandLevelDecibels, 2)),
        new("margin_db", "margin [dB]", r => Cell.Of(r.Echo.IsSilent ? null : r.MarginDecibels, 2)),
        new("range_m", "range [m]", r => Cell.Of(r.Echo.IsSilent ? null : r.Echo.RangeMetres, 3)),
        new("is_specular", "mirror", r => Cell.Of(r.Echo.IsSpecular)),
        new("counts_as_detection", "counts", r => Cell.Of(r.Part.CountsAsDetection)));
}

/// <summary>Evaluates cases of one obstacle before one sensor.</summary>
/// <param name="medium">The air.</param>
/// <param name="ground">The ground, or null for none.</param>
internal sealed class CaseJudge(EchoMedium medium, Ground? ground)
{
    private const string UsualTransducer = "plover-pair-40";

    /// <summary>Answers all cases, in their order.</summary>
    internal ImmutableArray<CaseAnswer> Answer(ImmutableArray<PosedCase> cases, CancellationToken cancellation)
    {
        // Files are read once and before the work, so that a fault of one stops everything.
        Dictionary<string, PreparedTransducer> transducers = [];
        foreach (string name in cases.Select(c => c.TransducerName ?? UsualTransducer).Distinct(StringComparer.Ordinal))
        {
            transducers.Add(name, new PreparedTransducer(InputFiles.ReadTransducer(name).Transducer, medium));
        }

        var answers = new CaseAnswer[cases.Length];
        Parallel.For(0, cases.Length, new ParallelOptions { CancellationToken = cancellation }, i =>
            answers[i] = Answer(cases[i], transducers[cases[i].TransducerName ?? UsualTransducer]));
        return ImmutableArray.Create(answers);
    }

    private CaseAnswer Answer(PosedCase one, PreparedTransducer prepared)
    {
        var sensor = new SensorAtPose(
            prepared, new RigidTransform(Rotation.FromAzimuthTiltRoll(one.Azimuth, one.Tilt, one.Roll), one.SensorPositionMetres));
        ImmutableArray<TargetPart> parts = one.Obstacle.Parts(ground);
        GroundEcho? floor = ground is null ? null : GroundEcho.Of(sensor, ground);
        LevelBudget budget = EchoExplainer.Explain(sensor, parts, default, new EchoSurroundings(FloorCrossingMetres: floor?.FirstCrossingMetres));
        return new CaseAnswer(
            new BudgetRow(one.Obstacle.Id, prepared.Transducer.Name, prepared.Transducer.NominalFrequency.Kilohertz, budget),
            floor?.FirstCrossingMetres,
            floor?.LargestMarginDecibels ?? PartEcho.SilentDecibels,
            [.. parts.Select(p => PartOf(sensor, p))]);
    }

    private static PartRow PartOf(SensorAtPose sensor, TargetPart part)
    {
        PartEcho echo = PartEchoes.Evaluate(sensor, part, Vec3.Zero);
        return new PartRow(part, echo, echo.BandLevelDecibels - sensor.Prepared.DetectionThresholdDecibels(echo.RangeMetres));
    }
}
