using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <content>Obstacles given by meshes: which engine answers, and when no verdict may rest on it.</content>
public sealed partial class VerdictBoard
{
    private static EchoEngine EngineOf(Entry entry) =>
        entry.Obstacle.Kind == ObstacleKind.Mesh ? EchoEngine.SurfaceIntegral : EchoEngine.ClosedForm;

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
        Engine = EngineOf(entry),
        Withheld = entry.Withheld,
    };
}
