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
            if (Math.Abs(answers[s].Move) != pass.Memory.Turns(s).Moves)
            {
                BringUpToDate(ref answers[s], s, at, pass);
            }

            if (answers[s].Asked == 0 && _layout.NearestRangeMetres(s, _target, at) > _reach[s])
            {
                (answers[s].Asked, answers[s].Move) = (AllPhases, -answers[s].Move);
            }
        }

        return answers;
    }

    // The sensor has moved since: keeps what a turn leaves standing.
    private void BringUpToDate(ref Answers answers, int sensor, Vec3 at, CellPass pass)
    {
        SensorTurns turns = pass.Memory.Turns(sensor);
        var found = new Answers { Block = answers.Block, Move = turns.Moves };
        if (answers.Move >= turns.EraBegan && pass.KeptRow is { } row && answers.Block > 0)
        {
            Span<QuickAnswer> quick = pass.Memory.Quick(row, answers);
            for (ulong left = answers.Asked; left != 0; left &= left - 1)
            {
                int phase = BitOperations.TrailingZeroCount(left);
                ref readonly PoseTurn turn = ref turns.From(quick[phase].Pose, phase);
                bool? stands = _layout.Stands(quick[phase], turn, sensor, phase, out bool isReport, out bool isLoudInDeadZone);
                if (!(stands ?? PosedLayout.Stands(pass.Memory.Kept(row, answers)[phase], turn)))
                {
                    ref KeptAnswer fallen = ref pass.Memory.Kept(row, answers)[phase];
                    fallen.IsRestless = PosedLayout.IsRestless(fallen, turn, turns.Last(phase), _layout.Sensor(sensor, phase).Prepared);
                }
                else
                {
                    ulong bit = 1UL << phase;
                    found.Asked |= bit;
                    found.Heard |= isReport ? bit : 0;
                    found.Deaf |= isLoudInDeadZone ? bit : 0;
                    bool isMasked = !isReport && quick[phase].Timing == EchoTiming.Listening && quick[phase].IsLoud;
                    RestOn(quick[phase], turn, isMasked, sensor, pass);
                }
            }
        }

        answers = found;
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
            bool isHeard, isDeaf;
            if (pass.KeptRow is { })
            {
                KeptAnswer answer = AskAndKeep(ref known, sensor, phase, at, pass, out isHeard);
                isDeaf = answer.IsLoudInDeadZone;
            }
            else
            {
                pass.Evaluations++;
                isHeard = _layout.MarginWithDeadZone(sensor, phase, _target, at, out isDeaf) >= 0;
            }

            known.Heard |= isHeard ? bit : 0;
            known.Deaf |= isDeaf ? bit : 0;
            known.Asked |= bit;
        }

        return (known.Heard & bit) != 0;
    }

    private KeptAnswer AskAndKeep(ref Answers known, int sensor, int phase, Vec3 at, CellPass pass, out bool isReport)
    {
        pass.Evaluations++;
        SensorTurns turns = pass.Memory.Turns(sensor);
        KeptAnswer? fallen = known.Block > 0 ? pass.Memory.Kept(pass.KeptRow!.Value, known)[phase] : null;
        bool isBare = !turns.IsFollowed || fallen?.IsRestless == true;
        KeptAnswer answer = _layout.Ask(sensor, phase, _target, at, isBare ? null : pass.Gross, out isReport) with { Pose = turns.Pose };
        if (isBare && fallen is { } before)
        {
            answer.Reach = before.Reach;
        }

        bool isMasked = !isReport && answer.Timing == EchoTiming.Listening && answer.MarginDecibels >= 0;
        RestOn(pass.Memory.Keep(pass.KeptRow!.Value, ref known, phase, answer, _layout.Sensor(sensor, phase).Prepared), default, isMasked, sensor, pass);
        return answer;
    }

    // The margin; a kept one if there is one. Out of reach it is −∞.
    private double MarginDecibels(int sensor, int place, int phase, Vec3 at, CellPass pass)
    {
        ref Answers known = ref pass.Memory.At(pass.Cell, place)[sensor];
        if (known.Move < 0)
        {
            return double.NegativeInfinity;
        }

        if (pass.KeptRow is { } row)
        {
            bool isKnown = ((known.Asked >> phase) & 1) != 0;
            KeptAnswer answer = isKnown ? pass.Memory.Kept(row, known)[phase] : AskAndKeep(ref known, sensor, phase, at, pass, out _);
            if (answer.Pose == pass.Memory.Turns(sensor).Pose)
            {
                return _layout.MarginOf(answer, sensor, phase);
            }
        }

        // An answer that still stands is kept as it is: it may outlive the next turn too.
        pass.Evaluations++;
        return _layout.MarginDecibels(sensor, phase, _target, at);
    }

    // Bounds on the margin: where a turn has left the answer standing, what it can have become; else both are the margin.
    private (double Least, double Most) MarginBounds(int sensor, int place, int phase, Vec3 at, CellPass pass)
    {
        ref Answers known = ref pass.Memory.At(pass.Cell, place)[sensor];
        if (pass.KeptRow is { } row && known.Move > 0 && ((known.Asked >> phase) & 1) != 0)
        {
            ref KeptAnswer answer = ref pass.Memory.Kept(row, known)[phase];
            if (answer.Pose != pass.Memory.Turns(sensor).Pose)
            {
                return _layout.MarginBounds(answer, pass.Memory.Turns(sensor).From(answer.Pose, phase), sensor, phase, at);
            }
        }

        double margin = MarginDecibels(sensor, place, phase, at, pass);
        return (margin, margin);
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

    private readonly struct PhaseTest(CellSearch search, Vec3 at, int place, CellPass pass) : IReportTest
    {
        public bool IsReported(int phase, int distanceIndex) => search.IsReported(at, place, phase, pass);
    }

    private readonly struct HoldTest(CellSearch search, Vec3 at, int place, CellPass pass) : IReportTest
    {
        public bool IsReported(int phase, int distanceIndex) => search.IsReported(at, place, phase, pass) || search.IsDeaf(at, place, phase, pass);
    }
}
