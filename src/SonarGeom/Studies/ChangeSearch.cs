using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Studies;

/// <summary>Looks for the cheapest single change of a layout that mends one obstacle, and says what it would cost elsewhere.</summary>
public sealed class ChangeSearch
{
    private static readonly double[] TurnsDegrees = [5, -5, 10, -10, 15, -15];
    private const int MostWeighed = 3;

    private static readonly double[] ThresholdStepsDecibels = [-3, -6];

    private readonly VerdictBoard _board;
    private readonly ImmutableArray<bool> _warned;
    private readonly ImmutableArray<Transducer> _parts;
    private readonly ImmutableArray<string> _sites;
    private readonly Func<PosedLayout, int, ImmutableArray<BandShare>> _shares;
    private readonly ImmutableArray<string> _probes;
    private readonly MovedShares[] _moved;

    /// <summary>Prepares a search.</summary>
    /// <param name="board">The verdicts of the unchanged layout.</param>
    /// <param name="parts">The transducers that may take another's place.</param>
    /// <param name="sites">The sites that a sensor may move to.</param>
    /// <param name="probes">Names of the probes of the maps, at least one, the main one first.</param>
    /// <param name="shares">The shares of all bands of a changed layout, head first, for a probe by its index.</param>
    /// <param name="mapped">The shares of the unchanged layout on the grid of the maps, by probe; default for those of <paramref name="shares"/>.</param>
    public ChangeSearch(
        VerdictBoard board, ImmutableArray<Transducer> parts, ImmutableArray<string> sites, ImmutableArray<string> probes,
        Func<PosedLayout, int, ImmutableArray<BandShare>> shares, ImmutableArray<ImmutableArray<BandShare>> mapped = default)
    {
        ArgumentNullException.ThrowIfNull(board);
        ArgumentNullException.ThrowIfNull(shares);
        _board = board;
        _warned = board.WarnedInTime();
        _parts = parts;
        _sites = sites;
        _probes = probes;
        _shares = shares;
        _moved = [.. Enumerable.Range(0, probes.Length).Select(p => new MovedShares(mapped.IsDefault ? default : mapped[p], shares(board.Layout, p)))];
        _candidates = [.. Candidates().OrderBy(c => c.Cost).ThenBy(c => c.Kind).ThenBy(c => c.Sensor)];
    }

    private readonly Candidate[] _candidates;

    /// <summary>Returns the cheapest change that mends an obstacle, or null when none of those tried does.</summary>
    /// <param name="obstacle">Index of the obstacle.</param>
    /// <param name="cancellation">Stops the work.</param>
    public SmallestChange? Find(int obstacle, CancellationToken cancellation = default)
    {
        foreach (IGrouping<double, Candidate> sameCost in _candidates.GroupBy(c => c.Cost))
        {
            Candidate[] group = [.. sameCost];
            var mends = new bool[group.Length];
            Parallel.For(0, group.Length, new ParallelOptions { CancellationToken = cancellation }, i =>
                mends[i] = group[i].IsPossible(_board.Layout) && _board.CouldWarn(obstacle, group[i].Sensor, group[i].Poses!.Value)
                    && _board.WouldWarn(obstacle, group[i].Sensor, group[i].Changed(_board.Layout)));
            (Candidate Candidate, SmallestChange Change)[] weighed =
            [
                .. group.Where((_, i) => mends[i]).Take(MostWeighed).Select(c => (c, Weigh(c, obstacle)))
                    .OrderBy(c => c.Item2.Lost.Length - c.Item2.Gained.Length).ThenByDescending(c => c.Item2.HeadShareAfterFraction),
            ];
            if (weighed.Length > 0)
            {
                return weighed[0].Change with { Bands = BandsOf(weighed[0].Candidate.Changed(_board.Layout)) };
            }
        }

        return null;
    }

    private SmallestChange Weigh(Candidate candidate, int mended)
    {
        VerdictBoard changed = _board.WithLayout(candidate.Sensor, candidate.Changed(_board.Layout));
        ImmutableArray<bool> after = changed.WarnedInTime();
        var gained = ImmutableArray.CreateBuilder<string>();
        var lost = ImmutableArray.CreateBuilder<string>();
        for (int i = 0; i < after.Length; i++)
        {
            if (_warned[i] && !after[i])
            {
                lost.Add(_board.ObstacleAt(i).Id);
            }
            else if (after[i] && !_warned[i] && i != mended)
            {
                gained.Add(_board.ObstacleAt(i).Id);
            }
        }

        double floorRange = changed.Layout.FloorRangeMetres(candidate.Sensor);
        string floor = double.IsFinite(floorRange) && !double.IsFinite(_board.Layout.FloorRangeMetres(candidate.Sensor))
            ? $"the floor would then be reported at {floorRange:0.0} m"
            : string.Empty;
        return new SmallestChange(
            candidate.Kind, candidate.Placement.Name, candidate.Description, candidate.Cost, gained.ToImmutable(), lost.ToImmutable(),
            _moved[0].Before[0].WarnedFraction, _moved[0].AfterChange(_shares(changed.Layout, 0))[0].WarnedFraction, [], floor);
    }

    // A turn that mends one branch may open a blind zone at the waist, for another probe: all are looked at, whatever the ranking said.
    private ImmutableArray<BandChange> BandsOf(PosedLayout changed)
    {
        var all = ImmutableArray.CreateBuilder<BandChange>();
        for (int p = 0; p < _probes.Length; p++)
        {
            ImmutableArray<BandFraction> after = _moved[p].AfterChange(_shares(changed, p));
            for (int b = 0; b < after.Length; b++)
            {
                double was = _moved[p].Before[b].WarnedFraction, now = after[b].WarnedFraction;
                if (Math.Abs(now - was) >= 0.005)
                {
                    all.Add(new BandChange(_probes[p], after[b].Band, was, now));
                }
            }
        }

        return all.ToImmutable();
    }

    private IEnumerable<Candidate> Candidates()
    {
        ImmutableArray<SensorPlacement> sensors = _board.Layout.Layout.Sensors;
        for (int s = 0; s < sensors.Length; s++)
        {
            SensorPlacement now = sensors[s];
            foreach (double turn in TurnsDegrees)
            {
                double cost = Math.Abs(turn) / 5;
                double tilt = now.Mount.Tilt.Degrees + turn;
                if (Math.Abs(tilt) <= 90)
                {
                    yield return new(
                        ChangeKind.Tilt, s, now with { Mount = now.Mount with { Tilt = Angle.FromDegrees(tilt) } },
                        $"tilt {now.Name} {Math.Abs(turn):0}° {(turn > 0 ? "up" : "down")}", cost);
                }

                yield return new(
                    ChangeKind.Azimuth, s, now with { Mount = now.Mount with { Azimuth = now.Mount.Azimuth + Angle.FromDegrees(turn) } },
                    $"turn {now.Name} {Math.Abs(turn):0}° to the {(turn > 0 ? "left" : "right")}", cost);
            }

            foreach (double step in ThresholdStepsDecibels)
            {
                yield return new(
                    ChangeKind.Threshold, s, now with { Transducer = Lowered(now.Transducer, step) },
                    $"lower the threshold of {now.Name} by {-step:0} dB", -step / 3);
            }

            foreach (string site in _sites.Where(n => n != now.Mount.Site && !IsAcross(now.Announces, n)))
            {
                yield return new(
                    ChangeKind.Site, s, now with { Mount = now.Mount with { Site = site } }, $"move {now.Name} to {site.Replace('-', ' ')}, {Attitude(now.Mount)} as before", 4);
            }

            // A part that listens longer than the firing cycle leaves time for is no way out.
            foreach (SensorPlacement swapped in _parts.Where(p => p.Name != now.Transducer.Name).Select(p => now with { Transducer = p })
                .Where(p => _board.Layout.Layout.WithSensors(sensors.SetItem(s, p)).HasTimeToListen))
            {
                yield return new(ChangeKind.Part, s, swapped, $"use {swapped.Transducer.Name} for {now.Name}", 6);
            }
        }
    }

    // A sensor that announces one side stays on it: on the other it would send the wearer the wrong way.
    private static bool IsAcross(AnnouncedSide announces, string site) =>
        (announces == AnnouncedSide.Left && site.EndsWith("right", StringComparison.Ordinal))
        || (announces == AnnouncedSide.Right && site.EndsWith("left", StringComparison.Ordinal));

    private static string Attitude(Mount mount) => FormattableString.Invariant(
        $"turned {Math.Abs(mount.Azimuth.Degrees):0.#}°{(mount.Azimuth.Degrees > 0 ? " left" : mount.Azimuth.Degrees < 0 ? " right" : string.Empty)} and tilted {Math.Abs(mount.Tilt.Degrees):0.#}°{(mount.Tilt.Degrees > 0 ? " up" : mount.Tilt.Degrees < 0 ? " down" : string.Empty)}");

    private static Transducer Lowered(Transducer transducer, double decibels) => transducer with
    {
        Threshold = new ThresholdProfile([.. transducer.Threshold.Points.Select(p => p with { LevelDecibels = p.LevelDecibels + decibels })]),
    };

    /// <summary>A change, with the poses and the layout that follow from it: made when first asked for, kept for the next obstacle.</summary>
    private sealed class Candidate(ChangeKind kind, int sensor, SensorPlacement placement, string description, double cost)
    {
        private PosedLayout? _changed;

        internal ChangeKind Kind => kind;

        internal int Sensor => sensor;

        internal SensorPlacement Placement => placement;

        internal string Description => description;

        internal double Cost => cost;

        internal ImmutableArray<SensorAtPose>? Poses { get; private set; }

        /// <summary>Whether the sensor can be mounted so at all: not inside the body.</summary>
        internal bool IsPossible(PosedLayout layout)
        {
            try
            {
                Poses ??= layout.BarePoses(placement);
                return true;
            }
            catch (ArgumentException)
            {
                return false;
            }
        }

        internal PosedLayout Changed(PosedLayout layout) => _changed ??= layout.WithSensor(sensor, placement);
    }
}
