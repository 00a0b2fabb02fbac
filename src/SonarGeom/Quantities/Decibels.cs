namespace SonarGeom.Quantities;

/// <summary>Conversions between decibels and ratios.</summary>
public static class Decibels
{
    /// <summary>Returns 20·log10 of an amplitude ratio; −∞ for 0. [dB]</summary>
    /// <param name="amplitudeRatio">The ratio; its sign is ignored. [unitless]</param>
    public static double FromAmplitudeRatio(double amplitudeRatio) => 20.0 * Math.Log10(Math.Abs(amplitudeRatio));

    /// <summary>Returns 10·log10 of a power ratio; −∞ for 0. [dB]</summary>
    /// <param name="powerRatio">The ratio, not negative. [unitless]</param>
    public static double FromPowerRatio(double powerRatio) => 10.0 * Math.Log10(powerRatio);

    /// <summary>Returns the amplitude ratio of a level difference. [unitless]</summary>
    /// <param name="decibels">The level difference. [dB]</param>
    public static double ToAmplitudeRatio(double decibels) => Math.Pow(10.0, decibels / 20.0);

    /// <summary>Returns the power ratio of a level difference. [unitless]</summary>
    /// <param name="decibels">The level difference. [dB]</param>
    public static double ToPowerRatio(double decibels) => Math.Pow(10.0, decibels / 10.0);
}
