using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Coverage;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Tests.Bodies;
using SonarGeom.Tests.Coverage;
using SonarGeom.Trials;

namespace SonarGeom.Tests.Trials;

/// <summary>Small courses for tests of trials.</summary>
internal static class TrialBench
{
    /// <summary>Nothing differs from walk to walk but the stride phase.</summary>
    internal static TrialSettings Calm { get; } = new()
    {
        Walks = 4,
        WalksPerOuting = 4,
        NuisanceWalksPerOuting = 0,
        SpeedSpreadFraction = 0,
        HeadSpreadDegrees = 0,
        TrunkSpreadDegrees = 0,
        MountSpreadFraction = 0,
        TemperatureSpreadKelvins = 0,
        HumiditySpreadPercent = 0,
        PartSpreadDecibels = 0,
        PingSpreadDecibels = 0,
        AsideSpreadMetres = 0,
        HeadingSpreadDegrees = 0,
        VeerDegrees = 0,
        RangeStepMetres = 0,
    };

    internal static WalkSettings Walk { get; } = new(StridePhases: CoverageBench.Phases);

    internal static double TrueMicrosecondsPerCentimetre => 2e4 / CoverageBench.OnMan.Medium.SoundSpeedMetresPerSecond;

    internal static TrialCourse Course(TrialSettings settings, params Obstacle[] obstacles) => Over(Ground.SmoothTile, settings, obstacles);

    internal static TrialCourse Over(Ground? ground, TrialSettings settings, params Obstacle[] obstacles) => new(
        Wearers.Tables, Wearers.Man, new ObstacleSet("for tests", string.Empty, ground, [.. obstacles]), Walk, AirState.Standard,
        SoundSpeedModel.Humid, TrueMicrosecondsPerCentimetre, settings);

    internal static ImmutableArray<SensorLayout> Pair { get; } =
    [
        CoverageBench.Layout(
            CoverageBench.Sensor("left", "chest left", 20, 0, AnnouncedSide.Left),
            CoverageBench.Sensor("right", "chest right", -20, 0, AnnouncedSide.Right)),
    ];

    /// <summary>Takes one walk of the first outing with its first layout.</summary>
    internal static (TrialWalk Walk, WalkRun Run, PingList Pings) Take(TrialCourse course, SensorLayout layout, int number = 0)
    {
        var outing = Outing.Of(course, [layout], 0);
        var run = new WalkRun(outing, outing.Layouts[0]);
        TrialWalk walk = TrialWalk.Of(outing, course.MainPlace, number);
        var pings = new PingList();
        run.Take(walk, pings);
        return (walk, run, pings);
    }

    internal sealed class PingList : IPingRecorder
    {
        internal List<(double Seconds, int Sensor, PingReport Report)> All { get; } = [];

        internal int Left { get; private set; }

        public void Ping(double seconds, int sensor, in PingReport report) => All.Add((seconds, sensor, report));

        public void Away(double seconds, int sensor, string reason) => Left++;
    }
}
