using SonarGeom.Echoes;
using SonarGeom.Transducers;

namespace SonarGeom.Trials;

/// <summary>How often noise alone crosses the threshold of a sensor, and at what range.</summary>
/// <remarks>The envelope of Gaussian noise exceeds a level t above its rms with probability <c>exp(−10^(t/10))</c> in each independent
/// sample (Rayleigh envelope; Skolnik, from memory); samples are independent after 1/bandwidth = Q/f₀.</remarks>
internal sealed class NoiseReports
{
    private readonly double[] _ranges;
    private readonly double[] _cumulative;

    private NoiseReports(double[] ranges, double[] cumulative)
    {
        _ranges = ranges;
        _cumulative = cumulative;
    }

    /// <summary>Gets the probability of at least one crossing in a ping. [unitless]</summary>
    internal double Probability => _cumulative.Length == 0 ? 0 : _cumulative[^1];

    internal static NoiseReports Of(PreparedTransducer prepared)
    {
        Transducer t = prepared.Transducer;
        double sample = t.ReceiverQ / t.NominalFrequency.Hertz;
        double from = Math.Max(t.BlankingSeconds, t.RingDownSeconds);
        int count = Math.Max(0, (int)((t.ListeningWindowSeconds - from) / sample));
        var ranges = new double[count];
        var cumulative = new double[count];
        double silent = 1;
        for (int i = 0; i < count; i++)
        {
            double time = from + ((i + 0.5) * sample);
            double over = t.Threshold.LevelDecibels(time) - t.NoiseLevelDecibels;
            silent *= 1 - Math.Exp(-Math.Pow(10, over / 10));
            ranges[i] = 0.5 * time * prepared.Medium.SoundSpeedMetresPerSecond;
            cumulative[i] = 1 - silent;
        }

        return new NoiseReports(ranges, cumulative);
    }

    /// <summary>Returns the range of the first crossing, or infinity. [m]</summary>
    /// <param name="draw">A number from 0 to below 1.</param>
    internal double RangeMetres(double draw)
    {
        if (draw >= Probability)
        {
            return double.PositiveInfinity;
        }

        int at = Array.BinarySearch(_cumulative, draw);
        return _ranges[at < 0 ? Math.Min(~at, _ranges.Length - 1) : at];
    }
}
