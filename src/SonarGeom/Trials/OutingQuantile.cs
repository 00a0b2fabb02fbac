using MathNet.Numerics.Distributions;

namespace SonarGeom.Trials;

/// <summary>How wide 95 % intervals are that rest on outings: Student's t with one degree of freedom fewer than outings.</summary>
internal static class OutingQuantile
{
    private const double Upper = 0.975;

    /// <summary>Returns the quantile for a number of outings, at least 2. [standard errors]</summary>
    internal static double Of(int outings) => StudentT.InvCDF(0, 1, outings - 1, Upper);

    /// <summary>Returns by how much cases count less because few outings tell of what differs between outings: the square of the
    /// quantile of the cases over that of the outings (Korn and Graubard 1998, Survey Methodology 24:193-201, from memory). [unitless]</summary>
    /// <param name="cases">Number of cases, at least 2.</param>
    /// <param name="outings">Number of outings, at least 2.</param>
    internal static double Discount(int cases, int outings)
    {
        double ratio = Of(cases) / Of(Math.Min(outings, cases));
        return ratio * ratio;
    }
}
