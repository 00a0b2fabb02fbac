using System.Numerics;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Echoes;
using SonarGeom.Geometry;

namespace SonarGeom.Coverage;

/// <content>Asks the sensors, each question once.</content>
internal sealed partial class CellSearch
{
    private const double LeastSummedDecibels = -60;

    private ulong AllPhases => ulong.MaxValue >> (64 - _layout.PhaseCount);

    private double FrontMetres(double y, double z, CellPass pass)
    {
        ref double front = ref pass.Memory.FrontMetres(pass.Cell);
        if (double.IsNaN(front))
        {
            front = _layout.ForemostXMetres(y, z, _target.HalfWidthMetres, _target.HalfHeightMetres) + _target.HalfDepthMetres;
        }

        return front;
    }

    private bool IsReliable(double front, double y, double z, int index, CellPass pass) => IsReliable(At(front, y, z, index), index, pass);

    private bool IsReliable(Vec3 at, int place, CellPass pass)
    {
        Span<Answers> answers = Answering(at, place, pass);
        if (BitOperations.PopCount(HeardByAny(answers)) >= _layout.PhaseCount - _allowedMisses)
        {
            return true;
        }

        ulong missed = AllPhases;
        foreach (Answers a in answers)
        {
            missed &= a.Asked & ~a.Heard;
        }

        if (BitOperations.PopCount(missed) > _allowedMisses)
        {
            return false;
        }

        var test = new PhaseTest(this, at, place, pass);
        return pass.Phases.IsReliable(ref test, 0);
    }

    // Reported, or so near that the sensor that would report it is still deaf: the alert was given farther off.
    private bool IsHeld(double front, double y, double z, int index, CellPass pass)
    {
        Vec3 at = At(front, y, z, index);
        Span<Answers> answers = Answering(at, index, pass);
        if (BitOperations.PopCount(HeardByAny(answers)) >= _layout.PhaseCount - _allowedMisses)
        {
            return true;
        }

        var test = new HoldTest(this, at, index, pass);
        return pass.Phases.IsReliable(ref test, 0);
    }

    // The answers at a place. A sensor that the place is out of reach of has answered for all phases.
    private Span<Answers> Answering(Vec3 at, int place, CellPass pass)
    {
        Span<Answers> answers = pass.Memory.At(pass.Cell, place);
        for (int s = 0; s < answers.Length; s++)
        {
            if (answers[s].Asked == 0 && _layout.NearestRangeMetres(s, _target, at) > _reach[s])
            {
                answers[s].Asked = AllPhases;
            }
        }

        return answers;
    }

    private bool IsDeaf(Vec3 at, int place, int phase, CellPass pass)
    {
        Span<Answers> answers = pass.Memory.At(pass.Cell, place);
        for (int s = 0; s < answers.Length; s++)
        {
            _ = Hears(answers, s, phase, at, pass);
            if (((answers[s].Deaf >> phase) & 1) != 0)
            {
                return true;
            }
        }

        return false;
    }

    private bool IsReported(Vec3 at, int place, int phase, CellPass pass)
    {
        Span<Answers> answers = pass.Memory.At(pass.Cell, place);
        if (((HeardByAny(answers) >> phase) & 1) != 0)
        {
            return true;
        }

        if (Hears(answers, pass.Favourite, phase, at, pass))
        {
            return true;
        }

        for (int s = 0; s < answers.Length; s++)
        {
            if (s != pass.Favourite && Hears(answers, s, phase, at, pass))
            {
                pass.Favourite = s;
                return true;
            }
        }

        return false;
    }

    private static ulong HeardByAny(Span<Answers> answers)
    {
        ulong heard = 0;
        foreach (Answers a in answers)
        {
            heard |= a.Heard;
        }

        return heard;
    }

    private bool Hears(Span<Answers> answers, int sensor, int phase, Vec3 at, CellPass pass)
    {
        ref Answers known = ref answers[sensor];
        ulong bit = 1UL << phase;
        if ((known.Asked & bit) == 0)
        {
            pass.Evaluations++;
            known.Heard |= _layout.MarginWithDeadZone(sensor, phase, _target, at, out bool isDeaf) >= 0 ? bit : 0;
            known.Deaf |= isDeaf ? bit : 0;
            known.Asked |= bit;
        }

        return (known.Heard & bit) != 0;
    }

    // The sensor that hears in the most phases; of equals the one with the larger sum of margins, of those the first. Whoever has
    // missed too often to come up to the best so far is asked no further.
    private int BestSensor(double front, double y, double z, int index, CellPass pass)
    {
        Vec3 at = At(front, y, z, index);
        Span<Answers> answers = Answering(at, index, pass);
        int best = -1, bestHits = 0;
        for (int s = 0; s < answers.Length; s++)
        {
            int hits = HitsUnlessFewer(answers, s, Math.Max(bestHits, 1), at, pass);
            if (hits > bestHits || (hits > 0 && hits == bestHits && SumDecibels(s, index, at, pass) > SumDecibels(best, index, at, pass)))
            {
                (best, bestHits) = (s, hits);
            }
        }

        return best;
    }

    // The number of phases in which a sensor hears, or 0 when there are fewer than wanted.
    private int HitsUnlessFewer(Span<Answers> answers, int sensor, int wanted, Vec3 at, CellPass pass)
    {
        for (int phase = 0; phase < _layout.PhaseCount; phase++)
        {
            if (BitOperations.PopCount(answers[sensor].Asked & ~answers[sensor].Heard) > _layout.PhaseCount - wanted)
            {
                return 0;
            }

            _ = Hears(answers, sensor, phase, at, pass);
        }

        int hits = BitOperations.PopCount(answers[sensor].Heard);
        return hits < wanted ? 0 : hits;
    }

    private double SumDecibels(int sensor, int index, Vec3 at, CellPass pass)
    {
        ref SensorNotes notes = ref pass.Memory.Notes(pass.Cell, sensor);
        if (notes.SumPlace != index + 1)
        {
            double sum = 0;
            for (int phase = 0; phase < _layout.PhaseCount; phase++)
            {
                pass.Evaluations++;
                sum += Math.Max(_layout.MarginDecibels(sensor, phase, _target, at), LeastSummedDecibels);
            }

            (notes.SumPlace, notes.SumDecibels) = (index + 1, sum);
        }

        return notes.SumDecibels;
    }

    private int CountHearing(double front, double y, double z, CellPass pass)
    {
        Vec3 at = At(front, y, z, _need);
        Span<Answers> answers = Answering(at, _need, pass);
        int count = 0;
        for (int s = 0; s < answers.Length; s++)
        {
            count += HitsUnlessFewer(answers, s, _layout.PhaseCount - _allowedMisses, at, pass) > 0 ? 1 : 0;
        }

        return count;
    }

    // As PosedLayout.CauseOf; a cause that an unmoved sensor told stays true as long as no other comes before it.
    private LimitingCause CauseAt(double front, double y, double z, int index, CellPass pass)
    {
        Vec3 at = At(front, y, z, index);
        (int sensor, int phase) = NearestToHearing(index, at, pass);
        ref CauseNote note = ref pass.Memory.Cause(pass.Cell);
        if (note.Place == index + 1 && note.Sensor == sensor && note.Phase == phase)
        {
            return note.Cause;
        }

        LimitingCause cause = _layout.Explain(sensor, phase, _target.Parts, at).Cause;
        if (cause == LimitingCause.None)
        {
            return CauseAtWorstPhase(sensor, index, at, pass);
        }

        note = new CauseNote { Place = index + 1, Sensor = sensor, Phase = phase, Cause = cause };
        return cause;
    }

    // The worst phase is one in which nobody hears, if there is one: only those need their margins.
    private LimitingCause CauseAtWorstPhase(int sensor, int index, Vec3 at, CellPass pass)
    {
        Span<Answers> answers = Answering(at, index, pass);
        int worst = -1;
        double least = 0;
        for (int phase = 0; phase < _layout.PhaseCount; phase++)
        {
            if (IsReported(at, index, phase, pass))
            {
                continue;
            }

            double margin = double.NegativeInfinity;
            for (int s = 0; s < answers.Length; s++)
            {
                margin = Math.Max(margin, MarginDecibels((s, phase), at, pass));
            }

            if (margin < least)
            {
                (least, worst) = (margin, phase);
            }
        }

        if (worst < 0)
        {
            return _layout.CauseOf(_target.Parts, at, null);
        }

        LimitingCause cause = _layout.Explain(sensor, worst, _target.Parts, at).Cause;
        return cause == LimitingCause.None ? LimitingCause.TooWeak : cause;
    }

    private (int Sensor, int Phase) NearestToHearing(int index, Vec3 at, CellPass pass)
    {
        (int Sensor, int Phase) nearest = (0, 0);
        double best = double.NegativeInfinity;
        for (int s = 0; s < _layout.SensorCount; s++)
        {
            ref SensorNotes notes = ref pass.Memory.Notes(pass.Cell, s);
            int opposite = _layout.PhaseCount / 2;
            if (notes.BarePlace != index + 1)
            {
                pass.Evaluations += 2;
                notes.BareFirstDecibels = _layout.BareMarginDecibels(s, 0, _target.Parts, at);
                notes.BareSecondDecibels = _layout.BareMarginDecibels(s, opposite, _target.Parts, at);
                notes.BarePlace = index + 1;
            }

            for (int half = 0; half < 2; half++)
            {
                double bare = half == 0 ? notes.BareFirstDecibels : notes.BareSecondDecibels;
                (int, int) here = (s, half * opposite);
                if (bare > best || (bare == best && MarginDecibels(here, at, pass) > MarginDecibels(nearest, at, pass)))
                {
                    (best, nearest) = (bare, here);
                }
            }
        }

        return nearest;
    }

    private double MarginDecibels((int Sensor, int Phase) view, Vec3 at, CellPass pass)
    {
        pass.Evaluations++;
        return _layout.MarginDecibels(view.Sensor, view.Phase, _target.Parts.AsSpan(), at, null, out _);
    }

    private readonly struct PhaseTest(CellSearch search, Vec3 at, int place, CellPass pass) : IReportTest
    {
        public bool IsReported(int phase, int distanceIndex) => search.IsReported(at, place, phase, pass);
    }

    private readonly struct HoldTest(CellSearch search, Vec3 at, int place, CellPass pass) : IReportTest
    {
        public bool IsReported(int phase, int distanceIndex) => search.IsReported(at, place, phase, pass) || search.IsDeaf(at, place, phase, pass);
    }
}
