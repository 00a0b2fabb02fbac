using System.Collections.Concurrent;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes;

/// <summary>How the echo of leaves at random places and attitudes swings from ping to ping about its mean power.</summary>
/// <remarks>
/// <para>The echo is a sum of waves of random phase, one for each leaf, a Poisson number of them: n on average. Its amplitude has the
/// distribution <c>F(r) = r ∫ J₁(ur) exp(−n H(u)) du</c>, <c>H(u) = ⟨1 − J₀(u a)⟩</c> over the amplitudes a of one leaf (random walks in the
/// plane: Kluyver 1905, from memory; scattering: Jakeman and Pusey, IEEE Trans. Antennas Propag. 24, 806 (1976)), here over all attitudes of a
/// disc. For many leaves the power is exponentially distributed (Rayleigh), and nine pings in ten exceed <c>−ln 0.9</c> of the mean:
/// −9.8 dB.</para>
/// <para>The K distribution with shape 2n⟨σ⟩²/⟨σ²⟩ has the same second moment (Abraham and Lyons, IEEE J. Oceanic Eng. 27, 800
/// (2002)). It is the limit of clusters of many scatterers in negative binomial numbers, not of leaves that glint one by one, and has
/// not the same low tail: leaves return a steady little from their rims between rare glints. It would put the level that nine in ten
/// exceed 1.2 dB too high for one effective scatterer, and 28 dB too low for a tenth. So the sum itself is taken.</para>
/// <para>All leaves count alike: n is the number that the second moment of their places in beam and burst tells. Frequencies within 4 %
/// fill the nulls of a leaf, as a burst does. Sizes are taken in steps of 5 % of kb, the next larger one: larger leaves glint more narrowly.
/// Integral in steps of 0.2 up to u = 1000, with a steady floor of noise 43 dB below the mean, so that the integral ends.</para>
/// </remarks>
internal sealed class LeafSwing
{
    /// <summary>The largest level over the mean that is told. [dB]</summary>
    internal const double HighestDecibels = 12;

    /// <summary>The smallest. [dB]</summary>
    internal const double LowestDecibels = -40;

    private const int Levels = 53;
    private const int Counts = 28;
    private const int Attitudes = 1024;
    private const int Halvings = 24;
    private const int Steps = 5000;
    private const double Step = 0.2;
    private const double FloorPower = 4.6e-5;
    private const double StepOfSize = 0.05;
    private const int TableSize = 400;
    private const double TableLow = 1e-4;
    private const double TableHigh = 1.5e3;

    private static readonly ConcurrentDictionary<int, LeafSwing> Known = [];

    // Of the logarithm of the number of leaves, then of the level.
    private readonly double[] _cumulative = new double[Counts * Levels];
    private readonly double _logStep;

    private LeafSwing(double kb)
    {
        double[] power = PowersOf(kb);
        double mean = 0, square = 0;
        for (int i = 0; i < Attitudes; i++)
        {
            double weight = Weight(i);
            mean += weight * power[i];
            square += weight * power[i] * power[i];
        }

        ScatterersPerLeaf = mean * mean / square;
        _logStep = Math.Log(40 / ScatterersPerLeaf) / (Counts - 1);
        double[] deficit = Deficits(power, mean);
        var falls = new double[Counts * Steps];
        for (int c = 0; c < Counts; c++)
        {
            double n = Math.Exp(c * _logStep), scale = 1 / Math.Sqrt(n);
            for (int s = 0; s < Steps; s++)
            {
                double u = (s + 1) * Step;
                falls[(c * Steps) + s] = Math.Exp(-(n * Deficit(deficit, u * scale)) - (0.25 * FloorPower * u * u));
            }
        }

        Span<double> sums = stackalloc double[Counts];
        for (int level = 0; level < Levels; level++)
        {
            double r = Math.Pow(10, (LowestDecibels + level) / 20);
            sums.Clear();
            for (int s = 0; s < Steps; s++)
            {
                double x = (s + 1) * Step * r, j1 = 0.5 * x * PistonPattern.Evaluate(x);
                for (int c = 0; c < Counts; c++)
                {
                    sums[c] += j1 * falls[(c * Steps) + s];
                }
            }

            for (int c = 0; c < Counts; c++)
            {
                // Trapezoids with the first end correction (Euler and Maclaurin): the slope of J₁(ur) at 0 is r/2.
                double value = Math.Clamp((r * Step * sums[c]) + (r * r * Step * Step / 24), 0, 1);
                _cumulative[(c * Levels) + level] = level > 0 ? Math.Max(value, _cumulative[(c * Levels) + level - 1]) : value;
            }
        }
    }

    /// <summary>Gets how many equal Rayleigh scatterers one leaf is worth: ⟨σ⟩²/⟨σ²⟩. [unitless]</summary>
    internal double ScatterersPerLeaf { get; }

    /// <summary>Returns the swing of leaves of a size.</summary>
    /// <param name="kb">Wavenumber times radius, above 0. [unitless]</param>
    internal static LeafSwing Of(double kb) =>
        Known.GetOrAdd((int)Math.Ceiling(Math.Log(kb) / StepOfSize), static size => new LeafSwing(Math.Exp(size * StepOfSize)));

    /// <summary>Returns the level that at least one of several independent moments exceeds in all pings but a share. [dB]</summary>
    /// <param name="moments">The moments, at least one.</param>
    /// <param name="missed">The share that stays below, above 0 and below 1.</param>
    internal double ExceededDecibels(ReadOnlySpan<Moment> moments, double missed)
    {
        double low = double.PositiveInfinity, high = double.NegativeInfinity;
        foreach (ref readonly Moment one in moments)
        {
            low = Math.Min(low, one.MeanDecibels + LowestDecibels);
            high = Math.Max(high, one.MeanDecibels + HighestDecibels);
        }

        for (int i = 0; i < Halvings; i++)
        {
            double middle = 0.5 * (low + high), below = 1;
            foreach (ref readonly Moment one in moments)
            {
                below *= Below(one.Leaves, middle - one.MeanDecibels);
            }

            (low, high) = below < missed ? (middle, high) : (low, middle);
        }

        return low;
    }

    /// <summary>Returns the share of pings that stay below a level over the mean power. [unitless]</summary>
    /// <param name="leaves">Effective number of leaves.</param>
    /// <param name="decibels">The level. [dB]</param>
    internal double Below(double leaves, double decibels)
    {
        (int c, double share) = Place(leaves);
        double position = decibels - LowestDecibels;
        if (!(position > 0))
        {
            // Less than the table's lowest level: power near 0 is as likely as it is dense.
            return Math.Pow(10, 0.1 * position) * Row(0);
        }

        int level = (int)position;
        if (level >= Levels - 1)
        {
            return 1;
        }

        double one = Row(level);
        return one + ((position - level) * (Row(level + 1) - one));

        double Row(int at) => _cumulative[(c * Levels) + at] + (share * (_cumulative[((c + 1) * Levels) + at] - _cumulative[(c * Levels) + at]));
    }

    /// <summary>Returns the level over the mean power that a share of pings stays below. [dB]</summary>
    /// <param name="leaves">Effective number of leaves.</param>
    /// <param name="share">The share, 0 to 1.</param>
    internal double QuantileDecibels(double leaves, double share)
    {
        (int c, double part) = Place(leaves);
        double low = At(c, share);
        return low + (part * (At(c + 1, share) - low));
    }

    private (int Count, double Share) Place(double leaves)
    {
        double position = Math.Clamp(Math.Log(Math.Max(leaves, 1)) / _logStep, 0, Counts - 1 - 1e-9);
        return ((int)position, position - (int)position);
    }

    private double At(int count, double share)
    {
        ReadOnlySpan<double> row = _cumulative.AsSpan(count * Levels, Levels);
        int above = 0;
        while (above < Levels && row[above] < share)
        {
            above++;
        }

        if (above == 0 || above == Levels)
        {
            return above == 0 ? LowestDecibels : HighestDecibels;
        }

        double span = row[above] - row[above - 1];
        return LowestDecibels + above - 1 + (span > 0 ? (share - row[above - 1]) / span : 0);
    }

    private static double Weight(int attitude) => Math.Sin((attitude + 0.5) * 0.5 * Math.PI / Attitudes) * 0.5 * Math.PI / Attitudes;

    private static double[] PowersOf(double kb)
    {
        var power = new double[Attitudes];
        for (int i = 0; i < Attitudes; i++)
        {
            (double sine, double cosine) = Math.SinCos((i + 0.5) * 0.5 * Math.PI / Attitudes);
            foreach (double off in (ReadOnlySpan<double>)[-0.04, -0.02, 0, 0.02, 0.04])
            {
                double f = cosine * PistonPattern.Evaluate(2 * kb * (1 + off) * sine);
                power[i] += 0.2 * f * f;
            }
        }

        return power;
    }

    // H over a logarithmic table of u, amplitudes over the root mean square.
    private static double[] Deficits(double[] power, double mean)
    {
        var table = new double[TableSize];
        for (int t = 0; t < TableSize; t++)
        {
            double u = TableLow * Math.Pow(TableHigh / TableLow, (double)t / (TableSize - 1));
            for (int i = 0; i < Attitudes; i++)
            {
                table[t] += Weight(i) * OneLessJ0(u * Math.Sqrt(power[i] / mean));
            }
        }

        return table;
    }

    private static double Deficit(double[] table, double u)
    {
        if (u <= TableLow)
        {
            return 0.25 * u * u;
        }

        double position = Math.Min(Math.Log(u / TableLow) / Math.Log(TableHigh / TableLow) * (TableSize - 1), TableSize - 1.000001);
        int i = (int)position;
        return table[i] + ((position - i) * (table[i + 1] - table[i]));
    }

    // Abramowitz and Stegun, Handbook of Mathematical Functions, 9.4.1 and 9.4.3 (from memory): below 1e-7; the series near 0.
    private static double OneLessJ0(double x)
    {
        if (x < 0.5)
        {
            double q = 0.25 * x * x;
            return q * (1 - (0.25 * q * (1 - (q / 9))));
        }

        if (x <= 3)
        {
            double y = x * x / 9;
            return y * (2.2499997 - (y * (1.2656208 - (y * (0.3163866 - (y * (0.0444479 - (y * (0.0039444 - (y * 0.0002100))))))))));
        }

        double z = 3 / x;
        double size = 0.79788456 + (z * (-0.00000077 + (z * (-0.00552740 + (z * (-0.00009512 + (z * (0.00137237 + (z * (-0.00072805 + (z * 0.00014476)))))))))));
        double phase = x - 0.78539816 + (z * (-0.04166397 + (z * (-0.00003954 + (z * (0.00262573 + (z * (-0.00054125 + (z * (-0.00029333 + (z * 0.00013558)))))))))));
        return 1 - (size * Math.Cos(phase) / Math.Sqrt(x));
    }
}

/// <summary>One moment of an echo.</summary>
/// <param name="MeanDecibels">Its mean level, over whatever it is compared with. [dB]</param>
/// <param name="Leaves">The effective number of leaves that answer then.</param>
internal readonly record struct Moment(double MeanDecibels, double Leaves);
