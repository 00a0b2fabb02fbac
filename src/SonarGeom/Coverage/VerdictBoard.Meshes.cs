using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <content>Obstacles given by meshes: which engine answers, and when no verdict may rest on it.</content>
public sealed partial class VerdictBoard
{
    // That of the part that answers; where none does, that which was asked for.
    private static EchoEngine EngineOf(Entry entry, string partName) =>
        entry.Parts.FirstOrDefault(p => p.Name == partName) is { } part ? EngineChoice.EngineOf(part)
        : entry.IsIntegral ? EchoEngine.SurfaceIntegral : EchoEngine.ClosedForm;

    private static void RefuseClosedFormsOfMeshes(ObstacleSet obstacles, EngineRequests engines)
    {
        if (obstacles.Obstacles.FirstOrDefault(o => o.Kind == ObstacleKind.Mesh && engines.For(o.Id) == EngineRequest.ClosedForm) is { } mesh)
        {
            throw new ArgumentException($"Closed forms are asked for, but {mesh.Id} is a mesh, which has none; take it out or let the engine be chosen.", nameof(engines));
        }
    }

    private static ImmutableArray<TargetPart> ByEngine(PosedLayout layout, EngineRequest engine, ImmutableArray<TargetPart> parts)
    {
        if (engine != EngineRequest.SurfaceIntegral)
        {
            return parts;
        }

        var bands = Enumerable.Range(0, layout.SensorCount).Select(s => layout.Sensor(s, 0).Prepared.Spectrum.FrequenciesHertz).ToArray();
        double speed = layout.Medium.SoundSpeedMetresPerSecond;
        return IntegralParts.Of(parts, speed / bands.Max(b => b[^1]), speed / bands.Min(b => b[0]));
    }

    // At the highest frequency that any sensor of the layout sends.
    private static string WithheldFor(PosedLayout layout, Obstacle obstacle)
    {
        if (obstacle.Shape is not { } shape)
        {
            return string.Empty;
        }

        double highest = Enumerable.Range(0, layout.SensorCount).Max(s => layout.Sensor(s, 0).Prepared.Spectrum.FrequenciesHertz[^1]);
        return string.Join(" ", MeshSurfaces.WithheldFor(shape, highest, layout.Medium.SoundSpeedMetresPerSecond / highest));
    }

    private ObstacleVerdict WithheldVerdict(Entry entry) => new(
        entry.Obstacle, VerdictOutcome.Withheld, entry.Contact.IsOnCourse,
        _layout.BandAt(entry.Contact.LowZMetres), _layout.BandAt(entry.Contact.HighZMetres), SideOf(entry.Contact), entry.ClosingSpeed,
        0, 0, 0, 0, _timeNeeded, double.NegativeInfinity, string.Empty, AnnouncedSide.Ahead, LimitingCause.MeshTooCoarse, string.Empty)
    {
        Engine = EchoEngine.SurfaceIntegral,
        Withheld = entry.Withheld,
    };
}
