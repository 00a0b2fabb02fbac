using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Geometry;
using SonarGeom.Layouts;

namespace SonarGeom.Trials;

/// <summary>Walks one layout through one walk, ping by ping.</summary>
internal sealed class WalkRun
{
    // Pings this long before the last useful moment tell why an obstacle was missed.
    private const double WatchSeconds = 1.5;

    // No sensor is farther from the wearer's origin than this.
    private const double BodyMetres = 1.2;

    private static readonly int WatchKinds = Enum.GetValues<PingWatch>().Length;

    private readonly Outing _outing;
    private readonly DayLayout _day;
    private readonly AlertMachine _machine;
    private readonly List<Alert> _alerts = [];
    private readonly double _reach;
    private NearHazard[] _near = [];
    private PingWatch[] _watched = [];
    private int[] _watch = [];
    private bool[] _heldUp = [];
    private bool[] _heardLate = [];
    private int _pings;
    private int _left;

    internal WalkRun(Outing outing, DayLayout day)
    {
        _outing = outing;
        _day = day;
        _machine = new AlertMachine(day.Posed.Layout);
        _reach = BodyMetres + day.Farthest.Concat(day.Interferences.SelectMany(i => i).Select(i => i.ToMetres)).Max();
        StopSeconds = outing.Walk.ReactionSeconds + (outing.Walk.SpeedMetresPerSecond / (2 * outing.Walk.DecelerationMetresPerSecondSquared));
    }

    /// <summary>Gets the time that the wearer needs after an alert: reaction and braking. [s]</summary>
    internal double StopSeconds { get; }

    /// <summary>Gets the share of its pings of the last walk that the device left out. [unitless]</summary>
    internal double AwayFraction => _pings == 0 ? 0 : (double)_left / _pings;

    /// <summary>Gets the alerts of the last walk.</summary>
    internal IReadOnlyList<Alert> Alerts => _alerts;

    /// <summary>Takes the walk.</summary>
    /// <param name="walk">The walk.</param>
    /// <param name="recorder">Told of every ping, or null.</param>
    internal void Take(TrialWalk walk, IPingRecorder? recorder = null)
    {
        TrialPlace place = walk.Place;
        Prepare(place.Hazards.Length);
        TrialSettings settings = _outing.Course.Settings;
        SensorLayout layout = _day.Posed.Layout;
        var ear = new PingEar(_day, place, settings);
        ulong placeKey = SeededDraws.KeyOf(place.Name);
        ulong outing = (ulong)_outing.Number, number = (ulong)walk.Number;
        var timing = new SeededDraws(settings.Seed, 4, outing, number, placeKey);
        var away = new AwayDraws(settings, new SeededDraws(settings.Seed, 5, outing, number, placeKey));
        int phases = _day.Posed.PhaseCount;
        ulong cycle = 0;
        for (double start = 0; start < walk.Seconds; cycle++)
        {
            int count = Gather(walk, start);
            foreach (ImmutableArray<int> group in _day.Schedule.Groups)
            {
                double at = start + _day.Offsets[group[0]];
                string? elsewhere = away.At(at);
                RigidTransform worldFromWalker = count > 0 ? walk.WorldFromWalker(at) : RigidTransform.Identity;
                int phase = (int)Math.Round(walk.PhaseAt(at) * phases) % phases;
                foreach (int sensor in group)
                {
                    _pings++;
                    if (elsewhere is not null)
                    {
                        _left++;
                        NoteAway(count);
                        recorder?.Away(at, sensor, elsewhere);
                        continue;
                    }

                    var draws = new SeededDraws(settings.Seed, 6 + (outing << 20), (number << 32) + cycle, SeededDraws.KeyOf(layout.Sensors[sensor].Name), placeKey);
                    PingReport report = ear.Hear(sensor, phase, worldFromWalker, _near.AsSpan(0, count), ref draws, _watched.AsSpan(0, count));
                    recorder?.Ping(at, sensor, report);
                    Alert? alert = _machine.Take(sensor, at, report);
                    Note(count, report);
                    if (report.Hazard >= 0)
                    {
                        _heardLate[report.Hazard] |= at >= walk.Touches[report.Hazard].Seconds - StopSeconds;
                    }

                    if (alert is { } felt)
                    {
                        _alerts.Add(felt);
                    }
                }
            }

            start += _day.Schedule.CycleSeconds + (_day.Schedule.JitterSeconds * timing.Uniform());
        }
    }

    /// <summary>Returns what became of an obstacle in the last walk.</summary>
    internal WalkOutcome OutcomeOf(TrialWalk walk, int hazard)
    {
        WalkTouch touch = walk.Touches[hazard];
        if (!touch.IsTouched)
        {
            return WalkOutcome.Passed;
        }

        double memory = touch.Seconds - StopSeconds - _outing.Course.Settings.MemorySeconds;
        foreach (Alert alert in _alerts)
        {
            if (alert.Source == AlertSource.Obstacle && alert.Hazard == hazard && alert.FeltSeconds >= memory && alert.FeltSeconds < touch.Seconds)
            {
                double warning = touch.Seconds - alert.FeltSeconds;
                bool wrong = (alert.Message == AlertMessage.Left && touch.Side < 0) || (alert.Message == AlertMessage.Right && touch.Side > 0);
                bool isSided = alert.Message is AlertMessage.Left or AlertMessage.Right && touch.Side != 0;
                MissCause? cause = warning < StopSeconds ? MissCause.TooLate : wrong ? MissCause.WrongSide : null;
                return new WalkOutcome(true, warning, isSided, wrong, cause);
            }
        }

        return new WalkOutcome(true, double.NaN, false, false, CauseOf(hazard));
    }

    private void Prepare(int hazards)
    {
        _alerts.Clear();
        (_pings, _left) = (0, 0);
        _machine.Restart();
        if (_near.Length < hazards)
        {
            _near = new NearHazard[hazards];
            _watched = new PingWatch[hazards];
            _watch = new int[hazards * WatchKinds];
            _heldUp = new bool[hazards];
            _heardLate = new bool[hazards];
        }

        Array.Clear(_watch);
        Array.Clear(_heldUp);
        Array.Clear(_heardLate);
    }

    // Obstacles that are touched are gone: the wearer would have stopped.
    private int Gather(TrialWalk walk, double seconds)
    {
        int count = 0;
        Vec3 walker = walk.WorldFromWalker(seconds).Translation;
        for (int h = 0; h < walk.Touches.Length; h++)
        {
            WalkTouch touch = walk.Touches[h];
            if (touch.IsTouched && seconds >= touch.Seconds)
            {
                continue;
            }

            double left = touch.Seconds - seconds - StopSeconds;
            var one = new NearHazard(h, walk.Place.Hazards[h], walk.OffsetMetres(h, seconds), touch.IsTouched && left is >= 0 and < WatchSeconds);
            if (one.DistanceMetres(walker with { Z = Math.Clamp(1, one.Hazard.Box.LowMetres.Z, one.Hazard.Box.HighMetres.Z) }) <= _reach)
            {
                _near[count++] = one;
            }
            else if (one.IsWatched)
            {
                _watch[(h * WatchKinds) + (int)PingWatch.NotHeard]++;
            }
        }

        return count;
    }

    private void NoteAway(int count)
    {
        for (int i = 0; i < count; i++)
        {
            if (_near[i].IsWatched)
            {
                _watch[(_near[i].Index * WatchKinds) + (int)PingWatch.NotLooking]++;
            }
        }
    }

    private void Note(int count, in PingReport report)
    {
        for (int i = 0; i < count; i++)
        {
            if (_near[i].IsWatched)
            {
                int hazard = _near[i].Index;
                _watch[(hazard * WatchKinds) + (int)_watched[i]]++;
                _heldUp[hazard] |= _machine.WasBusy && report.Source == AlertSource.Obstacle && report.Hazard == hazard;
            }
        }
    }

    private MissCause? CauseOf(int hazard)
    {
        ReadOnlySpan<int> counts = _watch.AsSpan(hazard * WatchKinds, WatchKinds);
        if (counts[(int)PingWatch.Reported] > 0)
        {
            return _heldUp[hazard] ? MissCause.OtherMessage : MissCause.FilterNotMet;
        }

        if (_heardLate[hazard])
        {
            return MissCause.TooLate;
        }

        PingWatch most = PingWatch.NotHeard;
        int largest = 0;
        for (PingWatch kind = PingWatch.NotLooking; kind < PingWatch.NotHeard; kind++)
        {
            if (counts[(int)kind] > largest)
            {
                (most, largest) = (kind, counts[(int)kind]);
            }
        }

        // Null: never heard at all; why is asked of the echo itself.
        return most switch
        {
            PingWatch.NotLooking => MissCause.NotLooking,
            PingWatch.MaskedByFloor => MissCause.MaskedByFloor,
            PingWatch.MaskedByOwnLimb => MissCause.MaskedByOwnLimb,
            PingWatch.MaskedByOther => MissCause.MaskedByOther,
            PingWatch.Hidden => MissCause.Hidden,
            PingWatch.DeadZone => MissCause.DeadZone,
            _ => null,
        };
    }
}
