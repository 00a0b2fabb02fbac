using SonarGeom.Echoes;
using SonarGeom.Geometry;

namespace SonarGeom.Coverage;

/// <content>Which sensor hears best, and why none does.</content>
internal sealed partial class CellSearch
{
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
            if (hits > bestHits || (hits > 0 && hits == bestHits && HearsBetter(s, best, index, at, pass)))
            {
                (best, bestHits) = (s, hits);
            }
        }

        return best;
    }

    private bool HearsBetter(int sensor, int other, int index, Vec3 at, CellPass pass)
    {
        if (pass.KeptRow is null)
        {
            return SumDecibels(sensor, index, at, pass) > SumDecibels(other, index, at, pass);
        }

        pass.Compared |= (1UL << sensor) | (1UL << other);
        (double Least, double Most) own = SumBounds(sensor, index, at, pass), others = SumBounds(other, index, at, pass);
        return own.Least > others.Most || (own.Most > others.Least && SumDecibels(sensor, index, at, pass) > SumDecibels(other, index, at, pass));
    }

    private double SumDecibels(int sensor, int index, Vec3 at, CellPass pass)
    {
        double sum = 0;
        for (int phase = 0; phase < _layout.PhaseCount; phase++)
        {
            sum += Math.Max(MarginDecibels(sensor, index, phase, at, pass), LeastSummedDecibels);
        }

        return sum;
    }

    private (double Least, double Most) SumBounds(int sensor, int index, Vec3 at, CellPass pass)
    {
        (double least, double most) = (0, 0);
        for (int phase = 0; phase < _layout.PhaseCount; phase++)
        {
            (double low, double high) = MarginBounds(sensor, index, phase, at, pass);
            least += Math.Max(low, LeastSummedDecibels);
            most += Math.Max(high, LeastSummedDecibels);
        }

        return (least, most);
    }

    // As PosedLayout.CauseOf.
    private LimitingCause CauseAt(double front, double y, double z, int index, CellPass pass)
    {
        Vec3 at = At(front, y, z, index);
        _ = Answering(at, index, pass);
        (int sensor, int phase) = NearestToHearing(index, at, pass);
        ref CauseNotes notes = ref pass.Memory.Causes(pass.Cell);
        LimitingCause cause = CauseOf(ref notes.Nearest, sensor, phase, index, at, pass);
        if (cause != LimitingCause.None)
        {
            return cause;
        }

        int worst = WorstPhase(index, at, pass);
        if (worst < 0)
        {
            return _layout.CauseOf(_target.Parts, at, null);
        }

        // The search takes what the body hides from a coarser look than an explanation does: where that one finds the way free, the body is it.
        cause = CauseOf(ref notes.Worst, sensor, worst, index, at, pass);
        return cause != LimitingCause.None ? cause
            : _layout.IsPartlyHidden(sensor, worst, at) ? LimitingCause.OccludedByWearer
            : LimitingCause.TooWeak;
    }

    // A cause that was told before stays true as long as the sensor has not moved; of one that has turned only the beams are new.
    private LimitingCause CauseOf(ref CauseNote note, int sensor, int phase, int index, Vec3 at, CellPass pass)
    {
        SensorTurns turns = pass.Memory.Turns(sensor);
        bool isSame = note.Place == index + 1 && note.Sensor == sensor && note.Phase == phase && note.Move >= turns.EraBegan;
        if (isSame && note.Move == turns.Moves)
        {
            return note.Cause;
        }

        SteadyFacts? steady = isSame && note.Move >= turns.FacesMoved ? note.Steady : null;
        LimitingCause cause = _layout.CauseOf(sensor, phase, _target.Parts, at, ref steady);
        note = new CauseNote { Place = index + 1, Sensor = sensor, Phase = phase, Move = turns.Moves, Cause = cause, Steady = steady };
        return cause;
    }

    // The phase with the least margin, if there is one in which nobody hears: only those need their margins.
    private int WorstPhase(int index, Vec3 at, CellPass pass)
    {
        int worst = -1;
        double least = 0;
        for (int phase = 0; phase < _layout.PhaseCount; phase++)
        {
            if (IsReported(at, index, phase, pass))
            {
                continue;
            }

            double margin = LargestMarginDecibels(index, phase, at, pass);
            if (margin < least)
            {
                (least, worst) = (margin, phase);
            }
        }

        return worst;
    }

    // Of those whose margins are known only between bounds, only such as may have the largest are asked.
    private double LargestMarginDecibels(int index, int phase, Vec3 at, CellPass pass)
    {
        double known = double.NegativeInfinity;
        for (int s = 0; s < _layout.SensorCount && pass.KeptRow is not null; s++)
        {
            known = Math.Max(known, MarginBounds(s, index, phase, at, pass).Least);
        }

        double largest = double.NegativeInfinity;
        for (int s = 0; s < _layout.SensorCount; s++)
        {
            if (pass.KeptRow is null || MarginBounds(s, index, phase, at, pass).Most >= known)
            {
                largest = Math.Max(largest, MarginDecibels(s, index, phase, at, pass));
            }
        }

        return largest;
    }

    private (int Sensor, int Phase) NearestToHearing(int index, Vec3 at, CellPass pass)
    {
        // What is surely reached; whoever stays below it is not asked, nor is one who is left alone.
        double reached = double.NegativeInfinity;
        for (int s = 0; s < _layout.SensorCount; s++)
        {
            for (int half = 0; half < 2; half++)
            {
                reached = Math.Max(reached, BareBounds(s, half, index, at, pass).Least);
            }
        }

        int candidates = 0;
        (int Sensor, int Phase) only = (0, 0);
        for (int s = 0; s < _layout.SensorCount; s++)
        {
            for (int half = 0; half < 2; half++)
            {
                if (!(BareBounds(s, half, index, at, pass).Most < reached))
                {
                    (candidates, only) = (candidates + 1, (s, half * (_layout.PhaseCount / 2)));
                }
            }
        }

        if (candidates == 1)
        {
            return only;
        }

        (int Sensor, int Phase) nearest = (0, 0);
        double best = double.NegativeInfinity;
        for (int s = 0; s < _layout.SensorCount; s++)
        {
            for (int half = 0; half < 2; half++)
            {
                if (BareBounds(s, half, index, at, pass).Most < reached)
                {
                    continue;
                }

                double bare = BareMarginDecibels(s, half, index, at, pass);
                (int, int) here = (s, half * (_layout.PhaseCount / 2));
                if (bare > best || (bare == best && MarginDecibels(s, index, here.Item2, at, pass) > MarginDecibels(nearest.Sensor, index, nearest.Phase, at, pass)))
                {
                    (best, nearest) = (bare, here);
                }
            }
        }

        return nearest;
    }

    private double BareMarginDecibels(int sensor, int half, int index, Vec3 at, CellPass pass)
    {
        ref SensorNotes notes = ref pass.Memory.Notes(pass.Cell, sensor);
        SensorTurns turns = pass.Memory.Turns(sensor);
        if (notes.Place != index + 1 || notes.Move != turns.Moves)
        {
            pass.Evaluations += 2;
            notes = new SensorNotes
            {
                Place = index + 1,
                Move = turns.Moves,
                Pose = turns.Pose,
                First = AskBare(sensor, 0, at, pass),
                Second = AskBare(sensor, _layout.PhaseCount / 2, at, pass),
            };
        }

        return half == 0 ? notes.First.MarginDecibels : notes.Second.MarginDecibels;
    }

    private BareNote AskBare(int sensor, int phase, Vec3 at, CellPass pass) => pass.KeptRow is null
        ? new BareNote { MarginDecibels = _layout.BareMarginDecibels(sensor, phase, _target.Parts, at) }
        : _layout.AskBare(sensor, phase, _target, at, pass.Gross);

    private (double Least, double Most) BareBounds(int sensor, int half, int index, Vec3 at, CellPass pass)
    {
        ref SensorNotes notes = ref pass.Memory.Notes(pass.Cell, sensor);
        SensorTurns turns = pass.Memory.Turns(sensor);
        if (pass.KeptRow is not null && notes.Place == index + 1 && notes.Move < turns.Moves && notes.Move >= turns.EraBegan)
        {
            ref BareNote note = ref half == 0 ? ref notes.First : ref notes.Second;
            (double least, double most) = turns.From(notes.Pose, half * (_layout.PhaseCount / 2)).LevelChange(note.Reach);
            return (Math.Max(PartEcho.SilentDecibels, note.MarginDecibels + least), Math.Max(PartEcho.SilentDecibels, note.MarginDecibels + most));
        }

        double bare = BareMarginDecibels(sensor, half, index, at, pass);
        return (bare, bare);
    }
}
