using System.Collections.Immutable;
using SonarGeom.Layouts;

namespace SonarGeom.Trials;

/// <summary>One walk of the trials, ping by ping.</summary>
/// <param name="Layout">The layout as worn on that day.</param>
/// <param name="Number">Number of the walk, from 0.</param>
/// <param name="Seconds">How long it takes. [s]</param>
/// <param name="StopSeconds">Time that the wearer needs after an alert. [s]</param>
/// <param name="Reports">Every report of a sensor.</param>
/// <param name="Away">When pings were left out, and why.</param>
/// <param name="Alerts">Every alert.</param>
/// <param name="Touches">What becomes of each obstacle.</param>
public sealed record WalkRecord(
    SensorLayout Layout, int Number, double Seconds, double StopSeconds, ImmutableArray<RecordedReport> Reports, ImmutableArray<RecordedAway> Away,
    ImmutableArray<RecordedAlert> Alerts, ImmutableArray<RecordedTouch> Touches)
{
    /// <summary>Takes one walk of a course and records it.</summary>
    /// <param name="course">The course.</param>
    /// <param name="layout">The layout.</param>
    /// <param name="number">Number of the walk, from 0 to below the number of walks.</param>
    /// <exception cref="ArgumentOutOfRangeException">There is no such walk.</exception>
    public static WalkRecord Of(TrialCourse course, SensorLayout layout, int number)
    {
        ArgumentNullException.ThrowIfNull(course);
        ArgumentNullException.ThrowIfNull(layout);
        if (number < 0 || number >= course.Settings.Walks)
        {
            throw new ArgumentOutOfRangeException(nameof(number), $"There is no walk {number}; the trials have {course.Settings.Walks}, from 0.");
        }

        int perOuting = course.Settings.WalksPerOuting;
        var outing = Outing.Of(course, [layout], number / perOuting);
        var run = new WalkRun(outing, outing.Layouts[0]);
        TrialWalk walk = TrialWalk.Of(outing, course.MainPlace, number % perOuting);
        ImmutableArray<Hazard> hazards = walk.Place.Hazards;
        var recorder = new Recorder(hazards);
        run.Take(walk, recorder);
        return new WalkRecord(
            outing.Layouts[0].Posed.Layout, number, walk.Seconds, run.StopSeconds, recorder.Reports.ToImmutable(), recorder.AwayTimes.ToImmutable(),
            [.. run.Alerts.Select(a => new RecordedAlert(a.FeltSeconds, a.Message, a.Sensor, a.RangeMetres, a.Source, Name(hazards, a.Hazard)))],
            [
                .. hazards.Select((h, i) =>
                {
                    WalkOutcome outcome = run.OutcomeOf(walk, i);
                    return new RecordedTouch(h.Obstacle.Id, walk.Touches[i].Seconds, outcome.IsTouched, outcome.IsWarned, outcome.WarningSeconds);
                }),
            ]);
    }

    private static string? Name(ImmutableArray<Hazard> hazards, int index) => index < 0 ? null : hazards[index].Obstacle.Id;

    private sealed class Recorder(ImmutableArray<Hazard> hazards) : IPingRecorder
    {
        internal ImmutableArray<RecordedReport>.Builder Reports { get; } = ImmutableArray.CreateBuilder<RecordedReport>();

        internal ImmutableArray<RecordedAway>.Builder AwayTimes { get; } = ImmutableArray.CreateBuilder<RecordedAway>();

        public void Ping(double seconds, int sensor, in PingReport report)
        {
            if (!report.IsSilent)
            {
                Reports.Add(new RecordedReport(seconds, sensor, report.RangeMetres, report.Source, Name(hazards, report.Hazard)));
            }
        }

        public void Away(double seconds, int sensor, string reason) => AwayTimes.Add(new RecordedAway(seconds, reason));
    }
}

/// <summary>One report of one sensor.</summary>
/// <param name="Seconds">When the sensor fired. [s]</param>
/// <param name="Sensor">Index of the sensor.</param>
/// <param name="RangeMetres">The range told. [m]</param>
/// <param name="Source">What it comes from.</param>
/// <param name="Obstacle">The obstacle, or null.</param>
public readonly record struct RecordedReport(double Seconds, int Sensor, double RangeMetres, AlertSource Source, string? Obstacle);

/// <summary>A ping that was left out.</summary>
/// <param name="Seconds">When it would have been. [s]</param>
/// <param name="Reason">What the device did instead.</param>
public readonly record struct RecordedAway(double Seconds, string Reason);

/// <summary>One alert.</summary>
/// <param name="FeltSeconds">When it begins. [s]</param>
/// <param name="Message">What it tells.</param>
/// <param name="Sensor">Index of the sensor.</param>
/// <param name="RangeMetres">The range told by the deciding ping. [m]</param>
/// <param name="Source">What that ping came from.</param>
/// <param name="Obstacle">The obstacle, or null.</param>
public readonly record struct RecordedAlert(double FeltSeconds, AlertMessage Message, int Sensor, double RangeMetres, AlertSource Source, string? Obstacle);

/// <summary>What becomes of one obstacle.</summary>
/// <param name="Obstacle">The obstacle.</param>
/// <param name="Seconds">When it is touched, or when the wearer comes level with it. [s]</param>
/// <param name="IsTouched">Whether the body would run into it.</param>
/// <param name="IsWarned">Whether the wearer is warned in time, on the right side.</param>
/// <param name="WarningSeconds">Time from the alert to the touch; not a number without one. [s]</param>
public readonly record struct RecordedTouch(string Obstacle, double Seconds, bool IsTouched, bool IsWarned, double WarningSeconds);
