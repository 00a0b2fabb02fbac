using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>What a guide dog hears of a transducer.</summary>
/// <remarks>Means of four dogs: 18, 41, 61 and 68 dB at 32, 40, 45 and 50 kHz; at 40 kHz from 32 to 50 dB among the dogs.
/// Source: Heffner, Behavioral Neuroscience 97, 310–318 (1983) (seen second-hand).</remarks>
public static class DogHearing
{
    /// <summary>The highest frequency that was measured. [kHz]</summary>
    public const double HighestMeasuredKilohertz = 50;

    private static readonly (double Kilohertz, double Decibels)[] Means = [(32, 18), (40, 41), (45, 61), (50, 68)];

    /// <summary>Returns the mean hearing threshold of dogs, or null outside 32 to 50 kHz, where no figure is used. [dB re 20 µPa]</summary>
    /// <param name="frequency">The frequency of the tone.</param>
    /// <remarks>Straight lines in decibels over frequency between the measured means.</remarks>
    public static double? ThresholdDecibels(Frequency frequency)
    {
        double kilohertz = frequency.Kilohertz;
        for (int i = 1; i < Means.Length; i++)
        {
            ((double low, double from), (double high, double to)) = (Means[i - 1], Means[i]);
            if (kilohertz >= low && kilohertz <= high)
            {
                return from + ((to - from) * (kilohertz - low) / (high - low));
            }
        }

        return null;
    }
}
