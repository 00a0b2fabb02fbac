using System.Collections.Immutable;
using SonarGeom.Bodies;

namespace SonarGeom.Walks;

/// <summary>The tabled joint angles of a leg at one speed: coefficients straight in speed between the paces, held beyond the ends.</summary>
internal sealed class JointAngles
{
    private readonly double[] _hip;
    private readonly double[] _knee;
    private readonly double[] _ankle;

    internal JointAngles(ImmutableArray<GaitCurve> curves, double speedMetresPerSecond)
    {
        _hip = At(curves, GaitJoint.Hip, speedMetresPerSecond);
        _knee = At(curves, GaitJoint.Knee, speedMetresPerSecond);
        _ankle = At(curves, GaitJoint.Ankle, speedMetresPerSecond);
    }

    /// <summary>Returns the slowest and the fastest speed at which all joints were measured. [m/s]</summary>
    internal static (double Slowest, double Fastest) Measured(ImmutableArray<GaitCurve> curves) =>
        (curves.GroupBy(c => c.Joint).Max(g => g.Min(c => c.SpeedMetresPerSecond)),
        curves.GroupBy(c => c.Joint).Min(g => g.Max(c => c.SpeedMetresPerSecond)));

    /// <summary>Returns hip, knee and ankle at a phase, 0 at the heel strike of that leg. [°]</summary>
    internal (double Hip, double Knee, double Ankle) At(double phase)
    {
        double hip = _hip[0], knee = _knee[0], ankle = _ankle[0];
        for (int k = 1; k <= GaitCurve.Harmonics; k++)
        {
            (double sine, double cosine) = Math.SinCos(2 * Math.PI * k * phase);
            hip += (_hip[(2 * k) - 1] * cosine) + (_hip[2 * k] * sine);
            knee += (_knee[(2 * k) - 1] * cosine) + (_knee[2 * k] * sine);
            ankle += (_ankle[(2 * k) - 1] * cosine) + (_ankle[2 * k] * sine);
        }

        return (hip, knee, ankle);
    }

    private static double[] At(ImmutableArray<GaitCurve> curves, GaitJoint joint, double speed)
    {
        ImmutableArray<GaitCurve> rows = [.. curves.Where(c => c.Joint == joint).OrderBy(c => c.SpeedMetresPerSecond)];
        if (rows.IsEmpty)
        {
            throw new ArgumentException($"The body tables have no curve of the {joint.ToString().ToLowerInvariant()}; the table of gait curves must give it.");
        }

        int i = 0;
        while (i < rows.Length && rows[i].SpeedMetresPerSecond < speed)
        {
            i++;
        }

        if (i == 0 || i == rows.Length)
        {
            return [.. rows[Math.Min(i, rows.Length - 1)].CoefficientsDegrees];
        }

        double share = (speed - rows[i - 1].SpeedMetresPerSecond) / (rows[i].SpeedMetresPerSecond - rows[i - 1].SpeedMetresPerSecond);
        return [.. rows[i - 1].CoefficientsDegrees.Zip(rows[i].CoefficientsDegrees, (a, b) => ((1 - share) * a) + (share * b))];
    }
}
