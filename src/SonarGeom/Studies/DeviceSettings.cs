using SonarGeom.Quantities;

namespace SonarGeom.Studies;

/// <summary>What a device takes for granted when it turns time into distance.</summary>
public sealed record DeviceSettings
{
    /// <summary>The round trip that most hand-held and worn devices assume: 58 µs for a centimetre of range (common practice). [µs/cm]</summary>
    public const double UsualMicrosecondsPerCentimetre = 58;

    /// <summary>Makes settings.</summary>
    /// <param name="assumedMicrosecondsPerCentimetre">Round-trip time assumed for a centimetre of range, from 45 to 75. [µs/cm]</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is outside its range.</exception>
    public DeviceSettings(double assumedMicrosecondsPerCentimetre = UsualMicrosecondsPerCentimetre)
    {
        AssumedMicrosecondsPerCentimetre = Finite.Within(assumedMicrosecondsPerCentimetre, 45, 75, "The assumed round trip", "µs/cm");
    }

    /// <summary>Gets the round-trip time assumed for a centimetre of range. [µs/cm]</summary>
    public double AssumedMicrosecondsPerCentimetre { get; }
}
