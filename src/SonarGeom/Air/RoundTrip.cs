namespace SonarGeom.Air;

/// <summary>From echo time to range, and the error of a device that assumes a fixed speed of sound.</summary>
public static class RoundTrip
{
    /// <summary>Returns the round-trip echo time for each centimetre of range. [µs/cm]</summary>
    /// <param name="soundSpeedMetresPerSecond">The speed of sound, above 0. [m/s]</param>
    /// <exception cref="ArgumentOutOfRangeException">The speed is not finite or not above 0.</exception>
    public static double MicrosecondsPerCentimetre(double soundSpeedMetresPerSecond) =>
        2e4 / Positive(soundSpeedMetresPerSecond, nameof(soundSpeedMetresPerSecond));

    /// <summary>Returns the relative range error, reported over true minus one; above 0 the device reports too far,
    /// so that the obstacle is nearer than reported. [unitless]</summary>
    /// <param name="assumedMicrosecondsPerCentimetre">The constant by which the device divides the echo time, above 0. [µs/cm]</param>
    /// <param name="soundSpeedMetresPerSecond">The true speed of sound, above 0. [m/s]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite or not above 0.</exception>
    public static double RangeErrorFraction(double assumedMicrosecondsPerCentimetre, double soundSpeedMetresPerSecond) =>
        (MicrosecondsPerCentimetre(soundSpeedMetresPerSecond)
            / Positive(assumedMicrosecondsPerCentimetre, nameof(assumedMicrosecondsPerCentimetre))) - 1;

    private static double Positive(double value, string name) =>
        value > 0 && double.IsFinite(value)
            ? value
            : throw new ArgumentOutOfRangeException(name, $"{name} is {value}; it must be finite and above 0.");
}
