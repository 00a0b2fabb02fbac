using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Files;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Tables;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Obstacles;

namespace SonarGeom.Cli.Results;

/// <summary>The answer for one case.</summary>
/// <param name="Row">Its budget.</param>
/// <param name="FloorMetres">Range from which the bare ground is reported, or null. [m]</param>
/// <param name="FloorMarginDecibels">Largest margin of the bare ground. [dB]</param>
/// <param name="Parts">Every part by itself.</param>
internal sealed record CaseAnswer(BudgetRow Row, double? FloorMetres, double FloorMarginDecibels, ImmutableArray<PartRow> Parts);

/// <summary>One part by itself.</summary>
/// <param name="Part">The part.</param>
/// <param name="Echo">Its echo, by closed form unless it is a mesh.</param>
/// <param name="MarginDecibels">Its margin. [dB]</param>
/// <param name="Integral">Its echo by surface integral; null when not asked for or when it has no surface.</param>
internal readonly record struct PartRow(TargetPart Part, PartEcho Echo, double MarginDecibels, EngineEcho? Integral);

/// <summary>The tables beside a budget.</summary>
internal static class CaseTables
{
    /// <summary>Gets the floor.</summary>
    internal static ResultTable<CaseAnswer> Floor { get; } = new(
        new("ground_reported_from_m", null, a => Cell.Of(a.FloorMetres, 3)),
        new("ground_margin_db", null, a => Cell.Of(a.FloorMarginDecibels > -250 ? a.FloorMarginDecibels : null, 2)));

    /// <summary>Gets the parts by both engines.</summary>
    internal static ResultTable<PartRow> Engines { get; } = new(
        new("part", "part", r => Cell.Of(r.Part.Name)),
        new("closed_form_db_re_20upa", "closed form [dB]", r => Cell.Of(r.Echo.IsSilent || r.Part is MeshPart ? null : r.Echo.BandLevelDecibels, 2)),
        new("surface_integral_db_re_20upa", "integral or seeded leaves [dB]", r => Cell.Of(r.Integral is { BandLevelDecibels: > -250 } i ? i.BandLevelDecibels : null, 2)),
        new("difference_db", "difference [dB]", r => Cell.Of(r.Integral is { BandLevelDecibels: > -250 } i && !r.Echo.IsSilent && r.Part is not MeshPart ? i.BandLevelDecibels - r.Echo.BandLevelDecibels : null, 2)),
        new("estimated_error_db", "sure to ± [dB]", r => Cell.Of(r.Integral?.EstimatedErrorDecibels, 2)),
        new("withheld", "no verdict on the integral because", r => r.Integral is { } i ? Cell.Of(i.Withheld) : Cell.Of("the part has no surface of its own")));

    /// <summary>Gets the parts.</summary>
    internal static ResultTable<PartRow> Parts { get; } = new(
        new("part", "part", r => Cell.Of(r.Part.Name)),
        new("echo_level_db_re_20upa", "echo [dB]", r => Cell.Of(r.Echo.IsSilent ? null : r.Echo.BandLevelDecibels, 2)),
        new("margin_db", "margin [dB]", r => Cell.Of(r.Echo.IsSilent ? null : r.MarginDecibels, 2)),
        new("range_m", "range [m]", r => Cell.Of(r.Echo.IsSilent ? null : r.Echo.RangeMetres, 3)),
        new("engine", null, r => Cell.Of(Words.Code(EngineChoice.EngineOf(r.Part)))),
        new("estimated_error_db", "sure to ± [dB]", r => Cell.Of(r.Integral is { } i && r.Part is MeshPart ? i.EstimatedErrorDecibels : EngineChoice.UsualErrorDecibels(r.Part), 2)),
        new("is_specular", "mirror", r => Cell.Of(r.Echo.IsSpecular)),
        new("counts_as_detection", "counts", r => Cell.Of(r.Part.CountsAsDetection)));
}

/// <summary>Evaluates cases of one obstacle before one sensor.</summary>
/// <param name="medium">The air.</param>
/// <param name="ground">The ground, or null for none.</param>
/// <param name="withIntegral">Whether each part is also computed by surface integral.</param>
/// <param name="file">The table that the cases come from; null for the command line.</param>
internal sealed class CaseJudge(EchoMedium medium, Ground? ground, bool withIntegral, string? file)
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

        ImmutableArray<Fault> inside = [.. cases.Where(IsInside).Select(c => new Fault(
            file ?? "sonargeom", file is null ? null : c.Line, null, null, $"The sensor lies inside {c.Obstacle.Id}; it must stand clear of the obstacle."))];
        ImmutableArray<Fault> coarse = [.. cases.SelectMany(c => c.Obstacle.Parts(ground)
            .SelectMany(p => EngineChoice.WithheldFor(transducers[c.TransducerName ?? UsualTransducer], p))
            .Select(reason => new Fault(file ?? "sonargeom", file is null ? null : c.Line, null, null, $"The echo of {c.Obstacle.Id} cannot be told: {reason}")))];
        if (!inside.IsEmpty || !coarse.IsEmpty)
        {
            throw new InvalidInputException([.. inside, .. coarse]);
        }

        var answers = new CaseAnswer[cases.Length];
        Parallel.For(0, cases.Length, new ParallelOptions { CancellationToken = cancellation }, i =>
            answers[i] = Answer(cases[i], transducers[cases[i].TransducerName ?? UsualTransducer]));
        return ImmutableArray.Create(answers);
    }

    // A place from which every way out along an axis meets the obstacle lies in it.
    private static bool IsInside(PosedCase one)
    {
        BoundingBox box = one.Obstacle.Bounds();
        Vec3 at = one.SensorPositionMetres;
        if (at.X < box.LowMetres.X || at.Y < box.LowMetres.Y || at.Z < box.LowMetres.Z || at.X > box.HighMetres.X || at.Y > box.HighMetres.Y || at.Z > box.HighMetres.Z)
        {
            return false;
        }

        var builder = new RayScene.Builder();
        builder.AddMesh(one.Obstacle.Mesh(), 0);
        RayScene scene = builder.Build();
        Vec3[] ways = [Vec3.UnitX, -Vec3.UnitX, Vec3.UnitY, -Vec3.UnitY, Vec3.UnitZ, -Vec3.UnitZ];
        return ways.All(way => scene.AnyHit(at, way, 0, 1000));
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

    private PartRow PartOf(SensorAtPose sensor, TargetPart part)
    {
        PartEcho echo = PartEchoes.Evaluate(sensor, part, Vec3.Zero);
        return new PartRow(part, echo, echo.BandLevelDecibels - sensor.Prepared.DetectionThresholdDecibels(echo.RangeMetres), withIntegral ? IntegralOf(sensor, part) : null);
    }

    private static EngineEcho? IntegralOf(SensorAtPose sensor, TargetPart part)
    {
        try
        {
            return EngineChoice.Evaluate(sensor, part, EngineRequest.SurfaceIntegral);
        }
        catch (ArgumentException)
        {
            return null; // Endless planes and bare edges have no surface to integrate over.
        }
    }
}
