using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Layouts;

/// <summary>What range a device reports for a sound that its own last burst did not cause.</summary>
/// <remarks>A device takes half of the way that sound makes in the time since its own burst.</remarks>
public static class ApparentRange
{
    /// <summary>Returns the range at which the echo of an earlier burst of the same sensor seems to be; below 0 it comes before the
    /// burst. [m]</summary>
    /// <param name="rangeMetres">The true range. [m]</param>
    /// <param name="burstsBefore">How many bursts before, m, from 0 (the real echo).</param>
    /// <param name="cycleSeconds">The time from burst to burst, T. [s]</param>
    /// <param name="soundSpeedMetresPerSecond">The speed of sound, c. [m/s]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is not finite, or negative.</exception>
    /// <remarks>Formula: <c>R − m·c·T/2</c>.</remarks>
    public static double OfGhostMetres(double rangeMetres, int burstsBefore, double cycleSeconds, double soundSpeedMetresPerSecond)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(burstsBefore);
        return OfPathMetres(rangeMetres, rangeMetres, burstsBefore * Positive(cycleSeconds, nameof(cycleSeconds)), soundSpeedMetresPerSecond);
    }

    /// <summary>Returns the range at which a neighbour's burst seems to be that comes back from a target. [m]</summary>
    /// <param name="outMetres">From the neighbour's transmitter to the target, r₁. [m]</param>
    /// <param name="backMetres">From the target to the listener's receiver, r₂. [m]</param>
    /// <param name="elapsedSeconds">How long before the listener the neighbour fired, δ; 0 when together. [s]</param>
    /// <param name="soundSpeedMetresPerSecond">The speed of sound, c. [m/s]</param>
    /// <exception cref="ArgumentOutOfRangeException">A length or the speed is not finite, or negative.</exception>
    /// <remarks>Formula: <c>(r₁ + r₂ − c·δ)/2</c>.</remarks>
    public static double OfPathMetres(double outMetres, double backMetres, double elapsedSeconds, double soundSpeedMetresPerSecond)
    {
        Finite.Within(outMetres, 0, 1e6, "Way out", "m");
        Finite.Within(backMetres, 0, 1e6, "Way back", "m");
        Finite.Or(elapsedSeconds, nameof(elapsedSeconds));
        return 0.5 * (outMetres + backMetres - (Positive(soundSpeedMetresPerSecond, nameof(soundSpeedMetresPerSecond)) * elapsedSeconds));
    }

    /// <summary>Returns the range at which a neighbour's burst seems to be that comes straight from it: half the distance when both fire
    /// together. [m]</summary>
    /// <param name="distanceMetres">From the neighbour's transmitter to the listener's receiver. [m]</param>
    /// <param name="elapsedSeconds">How long before the listener the neighbour fired. [s]</param>
    /// <param name="soundSpeedMetresPerSecond">The speed of sound. [m/s]</param>
    public static double OfDirectMetres(double distanceMetres, double elapsedSeconds, double soundSpeedMetresPerSecond) =>
        OfPathMetres(distanceMetres, 0, elapsedSeconds, soundSpeedMetresPerSecond);

    /// <summary>Returns the range up to which no echo can be taken for one of the next burst. [m]</summary>
    /// <param name="cycleSeconds">The time from burst to burst. [s]</param>
    /// <param name="soundSpeedMetresPerSecond">The speed of sound. [m/s]</param>
    public static double UnambiguousMetres(double cycleSeconds, double soundSpeedMetresPerSecond) =>
        0.5 * Positive(soundSpeedMetresPerSecond, nameof(soundSpeedMetresPerSecond)) * Positive(cycleSeconds, nameof(cycleSeconds));

    /// <summary>Returns over what range a ghost wanders when bursts are jittered, while real echoes stay. [m]</summary>
    /// <param name="jitterSeconds">The most by which a cycle is lengthened. [s]</param>
    /// <param name="soundSpeedMetresPerSecond">The speed of sound. [m/s]</param>
    public static double GhostSpreadMetres(double jitterSeconds, double soundSpeedMetresPerSecond) =>
        0.5 * Positive(soundSpeedMetresPerSecond, nameof(soundSpeedMetresPerSecond)) * Finite.Within(jitterSeconds, 0, 5, "Jitter", "s");

    /// <summary>Returns the ghosts of a target that fall into the listening window.</summary>
    /// <param name="rangeMetres">The true range of the target. [m]</param>
    /// <param name="cycleSeconds">The time from burst to burst. [s]</param>
    /// <param name="soundSpeedMetresPerSecond">The speed of sound. [m/s]</param>
    /// <param name="deadZoneMetres">Where listening begins. [m]</param>
    /// <param name="windowMetres">Where listening ends. [m]</param>
    public static ImmutableArray<Ghost> Ghosts(
        double rangeMetres, double cycleSeconds, double soundSpeedMetresPerSecond, double deadZoneMetres, double windowMetres)
    {
        var ghosts = ImmutableArray.CreateBuilder<Ghost>();
        double at = OfGhostMetres(rangeMetres, 1, cycleSeconds, soundSpeedMetresPerSecond);
        for (int m = 1; at > 0; at = OfGhostMetres(rangeMetres, ++m, cycleSeconds, soundSpeedMetresPerSecond))
        {
            if (at >= deadZoneMetres && at <= windowMetres)
            {
                ghosts.Add(new Ghost(m, at));
            }
        }

        return ghosts.ToImmutable();
    }

    private static double Positive(double value, string name) =>
        value > 0 && double.IsFinite(value) ? value : throw new ArgumentOutOfRangeException(name, $"{name} is {value}; it must be finite and above 0.");
}
