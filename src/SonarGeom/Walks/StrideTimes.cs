using System.Collections.Immutable;
using SonarGeom.Bodies;

namespace SonarGeom.Walks;

/// <summary>How long a stride takes and how its stance is shared, for one wearer at one speed.</summary>
/// <param name="StrideSeconds">Time of two steps. [s]</param>
/// <param name="StanceShare">Share of the stride during which a foot is on the ground. [unitless]</param>
/// <param name="StepWidthMetres">Distance between the feet sideways. [m]</param>
/// <param name="LegScale">Leg length over that of the median adult of that sex. [unitless]</param>
/// <param name="Notes">What was stretched beyond the tables.</param>
internal sealed record StrideTimes(double StrideSeconds, double StanceShare, double StepWidthMetres, double LegScale, ImmutableArray<string> Notes)
{
    /// <summary>Works out the stride from the tables: straight in speed between the paces of the adults of that sex and age.</summary>
    /// <remarks>Below the slowest and above the fastest pace, length and cadence of the stride change by the same factor. Children
    /// and adults of unusual leg length walk as a tabled adult of the same Froude number does, time scaling with the root of leg
    /// length (dynamic similarity; Alexander and Jayes 1983, J Zool 201:135-152, from memory).</remarks>
    internal static StrideTimes Of(Body body, double speedMetresPerSecond)
    {
        double leg = Leg(body.Dimensions);
        WearerSpec grown = new() { Sex = body.Spec.Sex };
        double usual = Leg(BodyDimensions.Of(grown, body.Tables));
        double scale = Math.Sqrt(leg / usual);
        double speed = speedMetresPerSecond / scale;

        ImmutableArray<StrideTiming> rows = [.. body.Tables.StrideTimings.Where(r => r.Sex == body.Spec.Sex)];
        int youngest = rows.Min(r => r.AgeFromYears);
        int age = (int)Math.Max(youngest, body.Spec.AgeYears ?? youngest);
        int group = rows.Where(r => r.AgeFromYears <= age).Max(r => r.AgeFromYears);
        rows = [.. rows.Where(r => r.AgeFromYears == group).OrderBy(r => r.SpeedMetresPerSecond)];

        List<string> notes = [];
        if (body.Dimensions.IsChild)
        {
            notes.Add("Stride time of a child is that of a tabled adult at the same Froude number, scaled with the root of leg length.");
        }

        StrideTiming first = rows[0];
        StrideTiming last = rows[^1];
        double time;
        double stance;
        double width;
        if (speed <= first.SpeedMetresPerSecond || speed >= last.SpeedMetresPerSecond || rows.Length == 1)
        {
            StrideTiming end = speed <= first.SpeedMetresPerSecond ? first : last;
            time = end.StrideSeconds * Math.Sqrt(end.SpeedMetresPerSecond / speed);
            stance = end.StanceShare;
            width = end.StepWidthMetres;
            notes.Add($"{speedMetresPerSecond:0.00} m/s is outside the surveyed paces ({first.SpeedMetresPerSecond * scale:0.00} to {last.SpeedMetresPerSecond * scale:0.00} m/s for this leg length); stride length and cadence are scaled alike.");
        }
        else
        {
            int i = 1;
            while (speed > rows[i].SpeedMetresPerSecond)
            {
                i++;
            }

            double share = (speed - rows[i - 1].SpeedMetresPerSecond) / (rows[i].SpeedMetresPerSecond - rows[i - 1].SpeedMetresPerSecond);
            time = ((1 - share) * rows[i - 1].StrideSeconds) + (share * rows[i].StrideSeconds);
            stance = ((1 - share) * rows[i - 1].StanceShare) + (share * rows[i].StanceShare);
            width = ((1 - share) * rows[i - 1].StepWidthMetres) + (share * rows[i].StepWidthMetres);
        }

        return new StrideTimes(time * scale, stance, width * scale * scale, scale * scale, [.. notes]);
    }

    private static double Leg(BodyDimensions d) => d[BodyMeasure.TrochanterionHeight];
}
