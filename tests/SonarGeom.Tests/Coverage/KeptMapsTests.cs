using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Coverage;

/// <summary>Maps that follow a moving sensor are those computed from nothing, and those that every question asked would give.</summary>
public sealed class KeptMapsTests
{
    private static readonly MapSettings Grid = CoverageBench.Coarse with { CellMetres = 0.12 };

    [Theory]
    [InlineData(HoldRule.TimeNeeded)]
    [InlineData(HoldRule.DeadZone)]
    public void AMovedSensorLeavesTheMapsOfAFullRecomputation(HoldRule hold)
    {
        WalkSettings walk = CoverageBench.Walk with { Hold = hold };
        ImmutableArray<Probe> probes = [CoverageBench.Branch, CoverageBench.Sphere, Probe.Defaults[3]];
        KeptMaps kept = KeptMaps.Of(CoverageBench.OnMan, walk, Grid, probes);
        foreach ((int sensor, SensorPlacement placement) in Moves())
        {
            kept = kept.WithSensor(sensor, placement);
            PosedLayout anew = CoverageBench.Pose(kept.Layout.Layout);
            for (int p = 0; p < probes.Length; p++)
            {
                Same(new ApproachMapper(anew, walk, Grid).Map(probes[p]), kept.Maps[p]);
            }
        }
    }

    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    public void SensorsThatTurnToAndFroInAnyOrderLeaveThemToo(int seed)
    {
        // Small turns, so that most cells stand; the last sensor looks down far enough to hear the floor.
        var random = new Random(seed);
        ImmutableArray<Probe> probes = [CoverageBench.Branch, Probe.Defaults[seed]];
        KeptMaps kept = KeptMaps.Of(CoverageBench.OnMan, CoverageBench.Walk, Grid, probes, followed: seed == 1 ? default : [0, 1, 3]);
        for (int i = 0; i < 24; i++)
        {
            int sensor = random.Next(4);
            double tilt = sensor == 3 ? random.Next(-8, -2) : random.Next(-2, 3);
            kept = kept.WithSensor(sensor, Turned(sensor, 0.5 * random.Next(-3, 4), tilt, random.Next(3) - 1));
            PosedLayout anew = CoverageBench.Pose(kept.Layout.Layout);
            for (int p = 0; p < probes.Length; p++)
            {
                Same(new ApproachMapper(anew, CoverageBench.Walk, Grid).Map(probes[p]), kept.Maps[p]);
            }
        }
    }

    [Fact]
    public void EarlierMapsAskedAgainAnswerAsTruly()
    {
        KeptMaps first = KeptMaps.Of(CoverageBench.OnMan, CoverageBench.Walk, Grid, [CoverageBench.Branch]);
        SensorPlacement placement = Tilted(1, 1);
        ApproachMap once = first.WithSensor(1, placement).Maps[0];
        Same(once, first.WithSensor(1, placement).Maps[0]);
    }

    [Fact]
    public void MapsForSharesHaveTheSharesOfTheMaps()
    {
        KeptMaps shares = KeptMaps.Of(CoverageBench.OnMan, CoverageBench.Walk, Grid, [CoverageBench.Branch], isForSharesOnly: true);
        KeptMaps moved = shares.WithSensor(0, Tilted(0, -7));
        Assert.Equal(CoverageBench.Map(moved.Layout, CoverageBench.Branch, settings: Grid).Shares().ToArray(), moved.Maps[0].Shares().ToArray());
    }

    [Fact]
    public void TheBoundedSearchFindsWhatEveryQuestionAskedFindsWithFarFewerEchoes()
    {
        WalkSettings walk = CoverageBench.Walk with { Hold = HoldRule.DeadZone };
        KeptMaps kept = KeptMaps.Of(CoverageBench.OnMan, walk, Grid, [CoverageBench.Branch]);
        long first = kept.Maps[0].Evaluations;
        kept = kept.WithSensor(3, Tilted(3, 1));
        long asked = 0;
        ApproachMap map = kept.Maps[0];
        var warned = 0;
        for (int i = 0; i < map.Grid.Count; i++)
        {
            double y = map.Grid.YMetres(i % map.Grid.Columns), z = map.Grid.ZMetres(i / map.Grid.Columns);
            double expected = EveryQuestionAsked(kept.Layout, walk, y, z, ref asked);
            Assert.Equal((float)(expected / walk.SpeedMetresPerSecond), map.UnbrokenWarningSeconds[i]);
            warned += expected > 0 ? 1 : 0;
        }

        Assert.InRange(warned, map.Grid.Count / 10, map.Grid.Count);
        Assert.True(first * 2 < asked, $"{first} echoes for the first map, {asked} for every question");
        Assert.True(map.Evaluations * 100 < asked, $"{map.Evaluations} echoes after the move, {asked} for every question");
        Assert.True(map.Evaluations * 10 < first, $"{map.Evaluations} echoes after the move, {first} before");
    }

    // The first reliable distance that holds down to the dead zone, from the answer of every sensor in every phase at every distance.
    private static double EveryQuestionAsked(PosedLayout layout, WalkSettings walk, double y, double z, ref long asked)
    {
        ProbeTarget target = ProbeTarget.Of(CoverageBench.Branch);
        double front = layout.ForemostXMetres(y, z, target.HalfWidthMetres, target.HalfHeightMetres) + target.HalfDepthMetres;
        double timeNeeded = StoppingModel.TimeNeededSeconds(walk, layout.Layout.Firing);
        (ImmutableArray<double> distances, int need) = Grid.Distances(walk.SpeedMetresPerSecond * timeNeeded, 1);
        var isReliable = new bool[distances.Length];
        var isHeld = new bool[distances.Length];
        for (int i = 0; i < distances.Length; i++)
        {
            (isReliable[i], isHeld[i]) = Ask(distances[i], ref asked);
        }

        int hold = 0;
        while (hold < need && !IsBeyondDeadZone(new Vec3(front + distances[hold], y, z)))
        {
            hold++;
        }

        int top = -1;
        for (int i = hold; i < distances.Length && (i >= need ? isReliable[i] : isHeld[i]); i++)
        {
            top = isReliable[i] ? i : top;
        }

        if (top < 0 || top == distances.Length - 1)
        {
            return top < 0 ? 0 : distances[top];
        }

        (double low, double high) = (distances[top], distances[top + 1]);
        for (int i = 0; i < 3; i++)
        {
            double middle = 0.5 * (low + high);
            (low, high) = Ask(middle, ref asked).IsReliable ? (middle, high) : (low, middle);
        }

        return low;

        (bool IsReliable, bool IsHeld) Ask(double distance, ref long asked)
        {
            var at = new Vec3(front + distance, y, z);
            int reported = 0, held = 0;
            for (int phase = 0; phase < layout.PhaseCount; phase++)
            {
                bool isReported = false, isDeaf = false;
                for (int s = 0; s < layout.SensorCount; s++)
                {
                    asked++;
                    isReported |= layout.NearestRangeMetres(s, target, at) <= layout.ReachMetres(s) && layout.MarginDecibels(s, phase, target, at) >= 0;
                    isDeaf |= layout.IsInsideDeadZone(s, phase, target, at);
                }

                reported += isReported ? 1 : 0;
                held += isReported || isDeaf ? 1 : 0;
            }

            double wanted = walk.ReliableShare * layout.PhaseCount;
            return (reported >= wanted - 1e-9, held >= wanted - 1e-9);
        }

        bool IsBeyondDeadZone(Vec3 at)
        {
            int nearest = Enumerable.Range(0, layout.SensorCount).MinBy(s => layout.NearestRangeMetres(s, target, at));
            return layout.NearestRangeMetres(nearest, target, at) > layout.DeadZoneMetres(nearest);
        }
    }

    private static IEnumerable<(int Sensor, SensorPlacement Placement)> Moves()
    {
        yield return (0, Tilted(0, 1));
        yield return (0, Tilted(0, 2));
        yield return (1, Tilted(1, -1));
        yield return (3, Tilted(3, 9));
        yield return (3, Tilted(3, 8));
        yield return (3, Tilted(3, 8.5));
        yield return (1, Tilted(1, -2));
        yield return (1, Tilted(1, -3.5));
        yield return (1, Tilted(1, -1));
        yield return (1, Turned(1, 1, -1, 0));
        yield return (1, Turned(1, 2, -1, 0));
        yield return (1, Turned(1, 1, 0, 1));
        yield return (0, Turned(0, -1.5, 2, 0));
        yield return (0, Turned(0, 0, 2, -2));
        yield return (0, Turned(0, 0, 2.5, -2));
        yield return (2, CoverageBench.Standard.Sensors[2] with { Mount = CoverageBench.Standard.Sensors[2].Mount with { Azimuth = Angle.FromDegrees(-21) } });
        yield return (0, CoverageBench.Sensor("brow", "sternum", 0, 20));
    }

    private static SensorPlacement Tilted(int sensor, double degrees) => Turned(sensor, 0, degrees, 0);

    private static SensorPlacement Turned(int sensor, double azimuthDegrees, double tiltDegrees, double rollDegrees)
    {
        SensorPlacement placement = CoverageBench.Standard.Sensors[sensor];
        Mount mount = placement.Mount;
        return placement with
        {
            Mount = mount with
            {
                Azimuth = mount.Azimuth + Angle.FromDegrees(azimuthDegrees),
                Tilt = mount.Tilt + Angle.FromDegrees(tiltDegrees),
                Roll = mount.Roll + Angle.FromDegrees(rollDegrees),
            },
        };
    }

    private static void Same(ApproachMap expected, ApproachMap found)
    {
        Assert.Equal(expected.InSilhouette.ToArray(), found.InSilhouette.ToArray());
        Assert.Equal(expected.WarningSeconds.ToArray(), found.WarningSeconds.ToArray());
        Assert.Equal(expected.UnbrokenWarningSeconds.ToArray(), found.UnbrokenWarningSeconds.ToArray());
        Assert.Equal(expected.HeldWarningSeconds.ToArray(), found.HeldWarningSeconds.ToArray());
        Assert.Equal(expected.Causes.ToArray(), found.Causes.ToArray());
        Assert.Equal(expected.FirstSensor.ToArray(), found.FirstSensor.ToArray());
        Assert.Equal(expected.SensorsHearing.ToArray(), found.SensorsHearing.ToArray());
    }
}
