using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;

namespace SonarGeom.Trials;

/// <summary>Takes all walks of one outing with every layout.</summary>
internal static class OutingRunner
{
    internal static OutingTally Run(TrialCourse course, ImmutableArray<SensorLayout> layouts, int number, CancellationToken cancellation)
    {
        var outing = Outing.Of(course, layouts, number);
        int obstacles = course.MainPlace.Hazards.Length;
        WalkRun[] runs = [.. outing.Layouts.Select(d => new WalkRun(outing, d))];
        TallyCounter[] counters = [.. layouts.Select(_ => new TallyCounter(obstacles, course.Nuisances.Length))];
        var causes = new MissCause?[layouts.Length, obstacles];
        var onlyFirst = new int[layouts.Length, obstacles];
        var onlyOther = new int[layouts.Length, obstacles];
        var outcomes = new WalkOutcome[obstacles];
        var firstWarned = new bool[obstacles];
        int walks = WalksOf(course.Settings, number);
        for (int w = 0; w < walks; w++)
        {
            cancellation.ThrowIfCancellationRequested();
            TrialWalk walk = TrialWalk.Of(outing, course.MainPlace, w);
            for (int l = 0; l < runs.Length; l++)
            {
                runs[l].Take(walk);
                for (int h = 0; h < obstacles; h++)
                {
                    WalkOutcome outcome = runs[l].OutcomeOf(walk, h);
                    if (outcome.IsTouched && !outcome.IsWarned && outcome.Cause is null)
                    {
                        causes[l, h] ??= NeverHeard(outing, outing.Layouts[l], walk, h, runs[l].StopSeconds);
                        outcome = outcome with { Cause = causes[l, h] };
                    }

                    outcomes[h] = outcome;
                    firstWarned[h] = l == 0 ? outcome.IsWarned : firstWarned[h];
                    onlyFirst[l, h] += outcome.IsTouched && firstWarned[h] && !outcome.IsWarned ? 1 : 0;
                    onlyOther[l, h] += outcome.IsTouched && !firstWarned[h] && outcome.IsWarned ? 1 : 0;
                }

                counters[l].Count(walk, runs[l], outcomes);
            }
        }

        for (int p = 0; p < course.Nuisances.Length; p++)
        {
            for (int w = 0; w < course.Settings.NuisanceWalksPerOuting; w++)
            {
                TrialWalk walk = TrialWalk.Of(outing, course.Nuisances[p], w);
                for (int l = 0; l < runs.Length; l++)
                {
                    runs[l].Take(walk);
                    counters[l].CountNuisance(p, walk, runs[l]);
                }
            }
        }

        return new OutingTally(
            number, walks, [.. counters.Select(c => c.Done())],
            [.. Enumerable.Range(1, layouts.Length - 1).Select(l => new PairTally(Row(onlyFirst, l), Row(onlyOther, l)))]);
    }

    /// <summary>Returns how many walks an outing has: the last one may have fewer.</summary>
    internal static int WalksOf(TrialSettings settings, int number) =>
        Math.Min(settings.WalksPerOuting, settings.Walks - (number * settings.WalksPerOuting));

    // The sensor that comes nearest to hearing it at the last useful moment says why it does not.
    private static MissCause NeverHeard(Outing outing, DayLayout day, TrialWalk walk, int hazard, double stopSeconds)
    {
        ImmutableArray<Obstacles.TargetPart> parts = walk.Place.Hazards[hazard].Parts;
        if (parts.IsEmpty)
        {
            return MissCause.Specular;
        }

        double at = Math.Max(0, walk.Touches[hazard].Seconds - stopSeconds - 0.5);
        RigidTransform worldFromWalker = walk.WorldFromWalker(at);
        Vec3 offset = walk.OffsetMetres(hazard, at);
        int phase = (int)Math.Round(walk.PhaseAt(at) * day.Posed.PhaseCount) % day.Posed.PhaseCount;
        SensorAtPose? best = null;
        double loudest = double.NegativeInfinity;
        for (int s = 0; s < day.Posed.SensorCount; s++)
        {
            SensorAtPose pose = day.Posed.Sensor(s, phase);
            var moved = new SensorAtPose(pose.Prepared, worldFromWalker * pose.WorldFromSensor);
            double level = parts.Max(p => PartEchoes.EvaluateBand(moved, p, offset).LevelDecibels);
            if (best is null || level > loudest)
            {
                (best, loudest) = (moved, level);
            }
        }

        return EchoExplainer.Explain(best!, parts, offset, EchoSurroundings.Open).Cause switch
        {
            LimitingCause.DeadZone => MissCause.DeadZone,
            LimitingCause.OutOfBeam => MissCause.OutOfBeam,

            // Loud enough, and yet not heard in many pings: too far for the zones.
            LimitingCause.OutsideListeningWindow or LimitingCause.None => MissCause.BeyondZones,
            LimitingCause.Specular => MissCause.Specular,
            _ => MissCause.TooWeak,
        };
    }

    private static ImmutableArray<int> Row(int[,] table, int row) => [.. Enumerable.Range(0, table.GetLength(1)).Select(i => table[row, i])];
}
