using System.Collections.Immutable;
using System.Globalization;
using SonarGeom.Air;
using SonarGeom.Bodies;
using SonarGeom.Echoes.Facets;
using SonarGeom.Transducers;
using SonarGeom.Trials;

namespace SonarGeom.Studies;

/// <summary>Trials of a scenario: from its wearer, obstacles, air and device to a course.</summary>
public static class TrialStudy
{
    /// <summary>Makes the course.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="wearer">One of its wearers.</param>
    /// <param name="tables">The body tables.</param>
    /// <param name="settings">How many walks, and what differs between them.</param>
    /// <exception cref="ArgumentException">A mesh among the obstacles is too coarse for the wavelength.</exception>
    public static TrialCourse CourseOf(Scenario scenario, WearerSpec wearer, BodyTables tables, TrialSettings settings)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        if (TooCoarse(scenario) is [string first, ..])
        {
            throw new ArgumentException(first, nameof(scenario));
        }

        return new TrialCourse(
            tables, wearer, scenario.Obstacles, scenario.Walk, scenario.Air, scenario.SoundSpeedModel, scenario.Device.AssumedMicrosecondsPerCentimetre, settings);
    }

    /// <summary>Returns a sentence for each mesh among the obstacles whose curved faces are too coarse for the wavelength: its echo, and so
    /// whether it is heard on a walk, cannot be told.</summary>
    /// <param name="scenario">The scenario.</param>
    public static ImmutableArray<string> TooCoarse(Scenario scenario)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        double highest = scenario.Layout.Sensors.Max(s => BurstSpectrum.Of(s.Transducer).FrequenciesHertz[^1]);
        double wavelength = SoundSpeed.InMetresPerSecond(scenario.Air, scenario.SoundSpeedModel) / highest;
        return
        [
            .. scenario.Obstacles.Obstacles.Where(o => o.Shape is not null)
                .SelectMany(o => MeshSurfaces.WithheldFor(o.Shape!, highest, wavelength).Select(reason => $"{o.Id} cannot be walked up to in trials: {reason}")),
        ];
    }

    /// <summary>Says on what trials rest.</summary>
    /// <param name="course">The course.</param>
    public static ImmutableArray<string> Assumptions(TrialCourse course)
    {
        ArgumentNullException.ThrowIfNull(course);
        TrialSettings s = course.Settings;
        double stop = course.Walk.ReactionSeconds + (course.Walk.SpeedMetresPerSecond / (2 * course.Walk.DecelerationMetresPerSecondSquared));
        return
        [
            $"Warned in time: an alert of that obstacle is felt at least {stop:0.00} s before the touch at the usual speed (reaction {course.Walk.ReactionSeconds:0.0#} s and braking at {course.Walk.DecelerationMetresPerSecondSquared:0.0#} m/s²), "
                + $"does not tell the wrong side, and comes no more than {s.MemorySeconds:0.#} s before the last useful moment.",
            "The wearer walks on whatever the alerts say; what is touched is taken away. Only what the body would run into counts as an obstacle of that walk.",
            $"Differs from outing to outing (standard deviation, cut off at twice; assumptions): speed {s.SpeedSpreadFraction:P0}, head angle {s.HeadSpreadDegrees:0.#}°, trunk {s.TrunkSpreadDegrees:0.#}°, air {s.TemperatureSpreadKelvins:0.#} K and {s.HumiditySpreadPercent:0.#} %, "
                + $"parts {s.PartSpreadDecibels:0.#} dB; mounts evenly within {(s.MountSpreadFraction == 1 ? "their tolerance" : string.Create(CultureInfo.InvariantCulture, $"{s.MountSpreadFraction:0.##} of their tolerance"))}.",
            $"Differs from walk to walk: stride phase; place beside the line {s.AsideSpreadMetres * 100:0.#} cm and heading {s.HeadingSpreadDegrees:0.#}° at the start; each step turns by {s.VeerDegrees:0.#}° (Kallie et al. 2007, from memory) and back to the line within {s.CorrectionMetres:0.#} m (assumption). Each ping: {s.PingSpreadDecibels:0.#} dB (assumption).",
            "Intervals are 95 % and count outings as independent, not walks. They hold what differs between walks, not what may be wrong with the model: the figures of merit of the transducers carry their own uncertainty.",
            .. s.Away.Select(a => $"The device does not look during {a.ShareFraction:P0} of the time: {a.Reason}, {a.MeanSeconds:0.##} s at a time on average."),
            .. s.OtherBurstsPerSecond > 0 ? [$"Another wearer's device: {s.OtherBurstsPerSecond * 60:0.#} bursts a minute are loud enough to be taken for echoes, at any moment."] : Array.Empty<string>(),
        ];
    }
}
