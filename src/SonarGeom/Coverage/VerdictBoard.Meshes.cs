using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <content>Obstacles given by meshes: their echoes are surface integrals, dear and looked at sparingly.</content>
public sealed partial class VerdictBoard
{
    private const int MeshPhases = 4;

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

    /// <summary>
    /// Fills the margins of a mesh at four stride phases; those in between get the lesser of their neighbours'. Every second distance is
    /// looked at, and between two distances the lesser holds. All are taken lower by the estimated error.
    /// </summary>
    private static void FillMeshRow(PosedLayout layout, Entry entry, int sensor, Span<float> row)
    {
        row.Fill(float.NegativeInfinity);
        if (entry.Withheld.Length > 0)
        {
            return;
        }

        int phases = layout.PhaseCount, every = phases % MeshPhases == 0 ? phases / MeshPhases : 1, last = (row.Length / phases) - 1;
        for (int index = 0, looked = 0; index <= last; looked = index, index += index + 2 <= last ? 2 : 1)
        {
            Vec3 offset = OffsetAt(entry, index);
            Span<float> at = row.Slice(index * phases, phases);
            for (int phase = 0; phase < phases; phase += every)
            {
                double margin = layout.MarginWithDeadZone(sensor, phase, entry.Parts.AsSpan(), offset, entry.Others, out bool isInDeadZone) - MeshEcho.EstimatedErrorDecibels;
                at[phase] = margin < 0 && isInDeadZone ? InDeadZone : (float)margin;
            }

            for (int phase = 0; phase < phases; phase++)
            {
                int before = phase / every * every;
                at[phase] = phase == before ? at[before] : Lesser(at[before], at[(before + every) % phases]);
            }

            for (int phase = 0; phase < phases && index - looked == 2; phase++)
            {
                row[((index - 1) * phases) + phase] = Lesser(at[phase], row[(looked * phases) + phase]);
            }
        }
    }

    // What the dead zone hides counts as heard where deafness is excused: less than a report, more than silence.
    private static float Lesser(float one, float other) =>
        one == InDeadZone ? (other >= 0 ? one : other)
        : other == InDeadZone ? (one >= 0 ? other : one)
        : Math.Min(one, other);

    private ObstacleVerdict WithheldVerdict(Entry entry) => new(
        entry.Obstacle, VerdictOutcome.Withheld, entry.Contact.IsOnCourse,
        _layout.BandAt(entry.Contact.LowZMetres), _layout.BandAt(entry.Contact.HighZMetres), SideOf(entry.Contact), entry.ClosingSpeed,
        0, 0, 0, 0, _timeNeeded, double.NegativeInfinity, string.Empty, AnnouncedSide.Ahead, LimitingCause.MeshTooCoarse, string.Empty)
    {
        Engine = EngineOf(entry),
        Withheld = entry.Withheld,
    };
}
