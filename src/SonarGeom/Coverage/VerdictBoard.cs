using System.Collections.Immutable;
using System.Runtime.InteropServices;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <summary>
/// The margin of each sensor on each obstacle at each distance and stride phase, and the verdicts that follow. A margin is computed
/// when first asked for and kept. Replacing one sensor forgets that sensor only, so that changes can be tried one by one.
/// </summary>
public sealed partial class VerdictBoard
{
    private const double ClearlyOneSidedMetres = 0.12;

    // A hazard that closes faster is looked at as many times in the same number of seconds: longer steps, farther off.
    private const double VerdictStepShare = 0.5;

    private readonly PosedLayout _layout;
    private readonly WalkSettings _walk;
    private readonly MapSettings _settings;
    private readonly ImmutableArray<Entry> _entries;
    private readonly ImmutableArray<SensorMargins> _margins;
    private readonly int _need;
    private readonly int _last;
    private readonly double _timeNeeded;

    private VerdictBoard(
        PosedLayout layout, WalkSettings walk, MapSettings settings, ImmutableArray<Entry> entries, ImmutableArray<SensorMargins> margins)
    {
        _layout = layout;
        _walk = walk;
        _settings = settings;
        _entries = entries;
        _margins = margins;
        _timeNeeded = StoppingModel.TimeNeededSeconds(walk, layout.Layout.Firing);
        (ImmutableArray<double> distances, _need) = settings.Distances(walk.SpeedMetresPerSecond * _timeNeeded, VerdictStepShare);
        _last = distances.Length - 1;
    }

    /// <summary>Gets the layout on its wearer.</summary>
    public PosedLayout Layout => _layout;

    /// <summary>Gets the number of obstacles.</summary>
    public int ObstacleCount => _entries.Length;

    /// <summary>Returns an obstacle.</summary>
    /// <param name="index">Its index.</param>
    public Obstacle ObstacleAt(int index) => _entries[index].Obstacle;

    /// <summary>Sets the obstacles before a layout.</summary>
    /// <param name="layout">The layout on its wearer.</param>
    /// <param name="walk">Walking, reaction and braking.</param>
    /// <param name="settings">Search distances.</param>
    /// <param name="obstacles">The obstacles.</param>
    /// <param name="engines">Which engine computes the echoes; that which suits each part when null.</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">Closed forms are asked for, and one of the obstacles is a mesh.</exception>
    public static VerdictBoard Of(
        PosedLayout layout, WalkSettings walk, MapSettings settings, ObstacleSet obstacles, EngineRequests? engines = null,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(walk);
        ArgumentNullException.ThrowIfNull(settings);
        ArgumentNullException.ThrowIfNull(obstacles);
        engines ??= EngineRequest.Suitable;
        RefuseClosedFormsOfMeshes(obstacles, engines);
        Ground? ground = obstacles.Ground ?? layout.Ground;
        double timeNeeded = StoppingModel.TimeNeededSeconds(walk, layout.Layout.Firing);
        (ImmutableArray<double> distances, _) = settings.Distances(walk.SpeedMetresPerSecond * timeNeeded, VerdictStepShare);
        var entries = new Entry[obstacles.Obstacles.Length];
        Parallel.For(0, entries.Length, new ParallelOptions { CancellationToken = cancellation }, i =>
        {
            Obstacle obstacle = obstacles.Obstacles[i];
            EngineRequest engine = engines.For(obstacle.Id);
            ImmutableArray<TargetPart> parts = [.. obstacle.Parts(ground).Where(p => p.CountsAsDetection)];
            entries[i] = new Entry(
                obstacle,
                parts,
                ByEngine(layout, engine, parts),
                Contact.Of(layout, obstacle),
                Screen.OthersThan(obstacles, i),
                obstacle.ClosingSpeedMetresPerSecond is { } own ? own + walk.SpeedMetresPerSecond : walk.SpeedMetresPerSecond,
                [.. distances.Select(d => d * (1 + ((obstacle.ClosingSpeedMetresPerSecond ?? 0) / walk.SpeedMetresPerSecond)))],
                WithheldFor(layout, obstacle), obstacle.Kind == ObstacleKind.Mesh || engine == EngineRequest.SurfaceIntegral);
        });
        ImmutableArray<Entry> all = ImmutableArray.Create(entries);
        int cells = all.Length * distances.Length * layout.PhaseCount;
        return new VerdictBoard(
            layout, walk, settings, all, [.. Enumerable.Range(0, layout.SensorCount).Select(s => SensorMargins.Unasked(layout, s, cells))]);
    }

    /// <summary>Returns the board with one sensor replaced; the others are not computed again.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="changed">The layout with that sensor replaced.</param>
    public VerdictBoard WithLayout(int sensor, PosedLayout changed) => new(
        changed, _walk, _settings, _entries, _margins.SetItem(sensor, SensorMargins.Unasked(changed, sensor, _margins[sensor].Values.Length)));

    /// <summary>Returns the board with one sensor weakened, as by cloth, or silent.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="lossDecibels">Loss out and back together; infinite for a dead sensor. [dB]</param>
    public VerdictBoard WithLoss(int sensor, double lossDecibels) => new(
        _layout, _walk, _settings, _entries, _margins.SetItem(sensor, _margins[sensor] with { LossDecibels = _margins[sensor].LossDecibels + lossDecibels }));

    /// <summary>
    /// Returns whether one obstacle could at all be warned of in time if a sensor were replaced: at the last useful distance, with
    /// nothing in the way of the new sensor. What is then in the way only takes away, so a no is final.
    /// </summary>
    /// <param name="obstacle">Index of the obstacle.</param>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="poses">The new sensor at every stride phase.</param>
    public bool CouldWarn(int obstacle, int sensor, ImmutableArray<SensorAtPose> poses)
    {
        Entry entry = _entries[obstacle];
        if (entry.Withheld.Length > 0)
        {
            return false;
        }

        // A phase that is looked at stands for those up to the next one; a mesh is taken lower by what its echo may be off.
        Vec3 offset = OffsetAt(entry, _need);
        int every = EveryPhase(entry), misses = 0;
        int allowed = CellSearch.AllowedMisses(_layout.PhaseCount, _walk.ReliableShare);
        for (int phase = 0; phase < poses.Length && misses <= allowed; phase += every)
        {
            bool heard = false;
            for (int s = 0; s < _margins.Length && !heard; s++)
            {
                heard = s != sensor && MarginOf(s, obstacle, _need, phase) >= 0;
            }

            SensorAtPose pose = poses[phase];
            for (int i = 0; i < entry.Parts.Length && !heard; i++)
            {
                BandEcho echo = PartEchoes.EvaluateBand(pose, entry.Parts[i], offset);
                heard = echo.RangeMetres >= pose.Prepared.DeadZoneMetres && echo.RangeMetres <= pose.Prepared.WindowRangeMetres
                    && echo.LevelDecibels - ErrorDecibels(entry) >= pose.Prepared.DetectionThresholdDecibels(echo.RangeMetres);
            }

            misses += heard ? 0 : every;
        }

        return misses <= allowed;
    }

    /// <summary>Returns whether one obstacle would be warned of in time if one sensor were replaced, without building a board.</summary>
    /// <param name="obstacle">Index of the obstacle.</param>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="changed">The layout with that sensor replaced.</param>
    public bool WouldWarn(int obstacle, int sensor, PosedLayout changed)
    {
        ArgumentNullException.ThrowIfNull(changed);
        return WithLayout(sensor, changed).IsWarnedInTime(obstacle);
    }

    /// <summary>Returns the verdict on every obstacle, in the order of the set.</summary>
    public ImmutableArray<ObstacleVerdict> Verdicts()
    {
        var verdicts = new ObstacleVerdict[_entries.Length];
        Parallel.For(0, verdicts.Length, i => verdicts[i] = Verdict(i));
        return ImmutableCollectionsMarshal.AsImmutableArray(verdicts);
    }

    /// <summary>Returns for every obstacle whether it is warned of in time, without asking what does not decide that.</summary>
    public ImmutableArray<bool> WarnedInTime() => [.. Enumerable.Range(0, _entries.Length).Select(IsWarnedInTime)];

    /// <summary>Returns the verdict on one obstacle.</summary>
    /// <param name="index">Its index in the set.</param>
    public ObstacleVerdict Verdict(int index)
    {
        Entry entry = _entries[index];
        if (entry.Withheld.Length > 0)
        {
            return WithheldVerdict(entry);
        }

        double speed = entry.ClosingSpeed;
        int need = _need;
        int hold = HoldIndex(entry, need);
        int outer = need;
        while (outer <= _last && IsReliable(index, outer))
        {
            outer++;
        }

        int unbrokenTop = UnbrokenTop(index, _last);
        bool heldToNeed = outer > need;
        int chosen = heldToNeed && _walk.Hold == HoldRule.TimeNeeded ? outer - 1 : unbrokenTop;
        double distance = chosen < 0 ? 0 : entry.DistancesMetres[chosen];
        int lost = heldToNeed && unbrokenTop < need ? LowestHeld(index, need) : 0;
        int answering = chosen >= 0 ? chosen : need;
        Nearest best = BestAt(index, answering), atNeed = BestAt(index, need);
        string part = PartName(entry, best.Sensor, OffsetAt(entry, answering));
        double warning = distance / speed;
        AnnouncedSide announced = _layout.Layout.Sensors[best.Sensor].Announces;
        (int far, int near) = heldToNeed || chosen >= 0 ? (-1, -1) : StretchBeyond(index, need);
        bool breaksOff = (heldToNeed && chosen < need) || far >= 0;
        VerdictOutcome outcome = OutcomeOf(entry.Contact, warning, announced, breaksOff);
        Obstacle? hider = null;
        LimitingCause cause = outcome switch
        {
            VerdictOutcome.WarnedInTime or VerdictOutcome.PassedBesideHeard => LimitingCause.None,
            VerdictOutcome.WrongSide => LimitingCause.WrongSide,

            // Reports that began in time and broke off are explained where they break off, the others at the last useful distance.
            _ => _layout.CauseOf(entry.ToldParts, OffsetAt(entry, heldToNeed && breaksOff ? Math.Max(lost - 1, hold) : need), entry.Others, out hider),
        };
        return new ObstacleVerdict(
            entry.Obstacle, outcome, entry.Contact.IsOnCourse,
            _layout.BandAt(entry.Contact.LowZMetres), _layout.BandAt(entry.Contact.HighZMetres), SideOf(entry.Contact), speed,
            distance, heldToNeed ? entry.DistancesMetres[outer - 1] : far >= 0 ? entry.DistancesMetres[far] : 0, entry.DistancesMetres[far >= 0 ? near : lost], warning, _timeNeeded, atNeed.MarginDecibels,
            _layout.Layout.Sensors[best.Sensor].Name, announced, cause, part)
        {
            Engine = EngineOf(entry, part),
            HiddenBy = hider?.Id ?? string.Empty,
            IsAtSearchEnd = (far >= 0 ? far : chosen < 0 || breaksOff ? outer - 1 : chosen) == _last,
            EstimatedErrorDecibels = entry.Parts.Where(p => p.Name == part).Select(p => (double?)EngineChoice.UsualErrorDecibels(p)).FirstOrDefault(),
        };
    }

    /// <summary>Returns the detection margin of one sensor on an obstacle: 0 or more is a report. [dB]</summary>
    /// <param name="obstacle">Index of the obstacle.</param>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="distanceMetres">Distance from the body to the obstacle along the path. [m]</param>
    public double MarginDecibels(int obstacle, int sensor, int phase, double distanceMetres)
    {
        Entry entry = _entries[obstacle];
        return _layout.MarginDecibels(sensor, phase, entry.Parts.AsSpan(), new Vec3(distanceMetres - entry.Contact.WalkerXMetres, 0, 0), entry.Others, out _);
    }

    /// <summary>Opens the echo of an obstacle at one sensor, stride phase and distance into its level budget; null when the obstacle
    /// has no part whose echo would count.</summary>
    /// <param name="obstacle">Index of the obstacle.</param>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="distanceMetres">Distance from the body to the obstacle along the path. [m]</param>
    public LevelBudget? Explain(int obstacle, int sensor, int phase, double distanceMetres)
    {
        Entry entry = _entries[obstacle];
        return entry.ToldParts.IsEmpty
            ? null
            : _layout.Explain(sensor, phase, entry.ToldParts, new Vec3(distanceMetres - entry.Contact.WalkerXMetres, 0, 0), entry.Others);
    }

    private static Vec3 OffsetAt(Entry entry, int index) => new(entry.DistancesMetres[index] - entry.Contact.WalkerXMetres, 0, 0);

    // The stretch of reports nearest to the last useful distance that ends before it: an alert is given, then nothing more is heard.
    private (int Far, int Near) StretchBeyond(int obstacle, int need)
    {
        int near = need + 1;
        while (near <= _last && !IsReliable(obstacle, near))
        {
            near++;
        }

        int far = near;
        while (far < _last && IsReliable(obstacle, far + 1))
        {
            far++;
        }

        return near <= _last ? (far, near) : (-1, -1);
    }

    private int LowestHeld(int obstacle, int need)
    {
        int i = need;
        while (i > 0 && IsHeld(obstacle, i - 1))
        {
            i--;
        }

        return i;
    }

    private int HoldIndex(Entry entry, int need)
    {
        for (int i = 0; i < need; i++)
        {
            Vec3 at = entry.Contact.PointAt(entry.DistancesMetres[i]);
            int nearest = Enumerable.Range(0, _layout.SensorCount).MinBy(s => _layout.DistanceMetres(s, at));
            if (_layout.DistanceMetres(nearest, at) > _layout.DeadZoneMetres(nearest))
            {
                return i;
            }
        }

        return need;
    }

    // The sensor with the most reporting phases at a distance, then with the best margin in its least good phase that counts.
    private Nearest BestAt(int obstacle, int index)
    {
        int allowed = CellSearch.AllowedMisses(_layout.PhaseCount, _walk.ReliableShare);
        Nearest best = new(0, double.NegativeInfinity);
        int bestHits = -1;
        Span<float> sorted = stackalloc float[64];
        for (int s = 0; s < _layout.SensorCount; s++)
        {
            Span<float> used = sorted[.._layout.PhaseCount];
            int hits = 0;
            for (int phase = 0; phase < used.Length; phase++)
            {
                used[phase] = MarginOf(s, obstacle, index, phase);
                hits += used[phase] >= 0 ? 1 : 0;
            }

            used.Sort();
            if (hits > bestHits || (hits == bestHits && used[allowed] > best.MarginDecibels))
            {
                bestHits = hits;
                best = new(s, used[allowed]);
            }
        }

        return best;
    }

    private string PartName(Entry entry, int sensor, Vec3 offset)
    {
        _layout.MarginDecibels(sensor, 0, entry.Parts.AsSpan(), offset, entry.Others, out int answering);
        return answering >= 0 ? entry.Parts[answering].Name : string.Empty;
    }

    private readonly record struct Nearest(int Sensor, double MarginDecibels);

    // Told parts are those of causes and budgets: closed forms wherever there is one. The echoes of the others decide.
    private sealed record Entry(
        Obstacle Obstacle, ImmutableArray<TargetPart> ToldParts, ImmutableArray<TargetPart> Parts, Contact Contact, Screen? Others, double ClosingSpeed, ImmutableArray<double> DistancesMetres, string Withheld, bool IsIntegral);
}
