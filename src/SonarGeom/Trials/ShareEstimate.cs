namespace SonarGeom.Trials;

/// <summary>A share with its 95 % interval.</summary>
/// <param name="Hits">Cases in which it holds.</param>
/// <param name="Cases">All cases.</param>
/// <param name="LowFraction">Lower end. [unitless]</param>
/// <param name="HighFraction">Upper end. [unitless]</param>
public readonly record struct ShareEstimate(int Hits, int Cases, double LowFraction, double HighFraction)
{
    private const double Quantile = 1.959964;

    /// <summary>Gets the share; not a number without cases. [unitless]</summary>
    public double Fraction => Cases == 0 ? double.NaN : (double)Hits / Cases;

    /// <summary>Works out share and interval from clusters that are independent of each other while the cases within one are not.</summary>
    /// <param name="clusters">Hits and cases of each cluster.</param>
    /// <remarks>Interval of Wilson 1927 with the number of cases divided by the design effect: the variance of the share between
    /// clusters (ratio estimator; Cochran, Sampling Techniques, 3rd ed., eq. 6.13, from memory) over that of independent cases, at least
    /// 1, and discounted for few clusters as <see cref="OutingQuantile.Discount"/> tells. A single cluster counts as one case. No cases: 0 to 1.</remarks>
    public static ShareEstimate Of(IEnumerable<(int Hits, int Cases)> clusters)
    {
        (int Hits, int Cases)[] all = [.. clusters.Where(c => c.Cases > 0)];
        int hits = all.Sum(c => c.Hits), cases = all.Sum(c => c.Cases);
        if (cases == 0)
        {
            return new ShareEstimate(0, 0, 0, 1);
        }

        double share = (double)hits / cases;
        double independent = share * (1 - share) / cases;

        double effect = 1;
        if (all.Length > 1 && independent > 0)
        {
            double squares = all.Sum(c => Square(c.Hits - (share * c.Cases)));
            double between = squares * all.Length / (all.Length - 1) / ((double)cases * cases);
            effect = Math.Max(1, between / independent);
        }

        // One cluster tells nothing of what differs between clusters: it counts as one case.
        return Wilson(hits, cases, all.Length == 1 ? 1 : cases * OutingQuantile.Discount(cases, all.Length) / effect);
    }

    /// <summary>Works out share and interval from cases that are independent of each other: Wilson 1927.</summary>
    /// <param name="hits">Cases in which it holds.</param>
    /// <param name="cases">All cases, at least 1.</param>
    public static ShareEstimate OfIndependent(int hits, int cases) => Wilson(hits, cases, cases);

    private static ShareEstimate Wilson(int hits, int cases, double n)
    {
        double share = (double)hits / cases, z2 = Quantile * Quantile;
        double middle = (share + (z2 / (2 * n))) / (1 + (z2 / n));
        double half = Quantile / (1 + (z2 / n)) * Math.Sqrt((share * (1 - share) / n) + (z2 / (4 * n * n)));
        return new ShareEstimate(hits, cases, hits == 0 ? 0 : Math.Max(0, middle - half), hits == cases ? 1 : Math.Min(1, middle + half));
    }

    private static double Square(double x) => x * x;
}
