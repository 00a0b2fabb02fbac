using SonarGeom.Echoes;

namespace SonarGeom.Coverage;

/// <content>Cells that a turn leaves as they are.</content>
/// <remarks>
/// A search consults answers and, to tell equals apart and to find causes, margins. Each answer tells how far from the pose that was
/// asked its sensor may turn before it could change, and so, less the turn from there, how far from any other pose (turns, and moves of
/// faces, obey the triangle inequality). A cell stands as long as its sensors have turned less than the least of its answers allows.
/// </remarks>
internal sealed partial class CellSearch
{
    // Rounding of the turns and of single precision.
    private const double TurnRoundingRadians = 1e-6;

    // Whether every answer that the search in a cell consulted stands; if so, a bit for each sensor that has moved since.
    private static bool IsStanding(in KeptCell kept, CellPass pass, out ulong moved)
    {
        moved = 0;
        if (!kept.IsFound || kept.Era != pass.Memory.Era)
        {
            return false;
        }

        Span<Standing> standings = pass.Memory.Standings(pass.Cell);
        for (int s = 0; s < standings.Length; s++)
        {
            SensorTurns turns = pass.Memory.Turns(s);
            if (standings[s].Move != turns.Moves)
            {
                moved |= 1UL << s;
                (double any, double still) = turns.AwayRadians(standings[s].Pose);
                if (!((any < standings[s].SafeRadians || still < standings[s].SafeStillRadians) && turns.NearestMaskMetres > standings[s].RangeMetres))
                {
                    return false;
                }
            }
        }

        return true;
    }

    private CellOutcome Renewed(double y, double z, ref KeptCell kept, ulong moved, CellPass pass)
    {
        Span<Standing> standings = pass.Memory.Standings(pass.Cell);
        for (int s = 0; s < standings.Length; s++)
        {
            standings[s].Move = pass.Memory.Turns(s).Moves;
        }

        double front = FrontMetres(y, z, pass);
        if ((kept.Compared & moved) != 0)
        {
            pass.Compared = 0;
            kept.Outcome = kept.Outcome with { FirstSensor = BestSensor(front, y, z, kept.Chosen, pass) };
            kept.Compared = pass.Compared;
        }

        if (kept.Explained >= 0 && moved != 0)
        {
            kept.Outcome = kept.Outcome with { Cause = CauseAt(front, y, z, kept.Explained, pass) };
        }

        return kept.Outcome;
    }

    private static void BeginStanding(CellPass pass)
    {
        Span<Standing> standings = pass.Memory.Standings(pass.Cell);
        for (int s = 0; s < standings.Length; s++)
        {
            int move = pass.Memory.Turns(s).Moves;
            if (standings[s].Move != move)
            {
                standings[s] = new Standing { Move = move, Pose = pass.Memory.Turns(s).Pose, SafeRadians = float.PositiveInfinity, SafeStillRadians = float.PositiveInfinity };
            }
        }

        pass.Compared = 0;
    }

    // The cell rests on an answer that has outlived a turn, or on one of the present pose.
    private static void RestOn(in QuickAnswer answer, in PoseTurn turn, bool isMasked, int sensor, CellPass pass)
    {
        ref Standing standing = ref pass.Memory.Standings(pass.Cell)[sensor];
        if (isMasked || answer.IsOnEdge)
        {
            (standing.SafeRadians, standing.SafeStillRadians) = (0, 0);
        }
        else if (answer.Timing != EchoTiming.Never)
        {
            (double any, double still) = pass.Memory.Turns(sensor).AwayRadians(standing.Pose);
            standing.SafeRadians = Math.Min(standing.SafeRadians, (float)(answer.SafeRadians - turn.StepRadians - any - TurnRoundingRadians));
            standing.SafeStillRadians = Math.Min(standing.SafeStillRadians, Left(answer.SafeStillRadians, turn.StillRadians + still));
        }

        if (answer.IsLoud && answer.Timing == EchoTiming.Listening)
        {
            standing.RangeMetres = Math.Max(standing.RangeMetres, answer.RangeMetres + (float)PosedLayout.MaskSlackMetres);
        }
    }

    private static float Left(float safe, double away) => double.IsPositiveInfinity(away) ? float.NegativeInfinity : (float)(safe - away - TurnRoundingRadians);
}
