using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Trials;

/// <summary>How many walks are tried, and what differs from walk to walk. Spreads are standard deviations, cut off at twice, and
/// assumptions unless a source is named.</summary>
/// <remarks>
/// <para>An <em>outing</em> is one day: posture, speed, air, and how the sensors sit, are drawn once for it; its walks differ in stride
/// phase and in how the wearer strays. Outings are independent of each other, walks of one outing are not, and intervals say so.</para>
/// <para>Straying: each step turns the heading by a random angle; the wearer turns back to the line within the correction length:
/// <c>Δδ = ε − ℓ·(2δ/L + y/L²)</c> for a step of length ℓ, heading δ off the line and y beside it. For a step noise σ the standard
/// deviation of y is <c>σ·√(L³/(4ℓ))</c>: 0.10 m for the values here. Step noise of about 1° and 3 to 5° at the start: Kallie et al. 2007
/// (from memory); the correction is an assumption.</para>
/// </remarks>
public sealed record TrialSettings
{
    /// <summary>Gets the number of walks, from 1 to 10 million.</summary>
    public int Walks { get; init => field = (int)Finite.Within(value, 1, 10_000_000, "Number of walks", "walks"); } = 2000;

    /// <summary>Gets how many walks belong to one outing, from 1 to 1000.</summary>
    public int WalksPerOuting { get; init => field = (int)Finite.Within(value, 1, 1000, "Walks of an outing", "walks"); } = 100;

    /// <summary>Gets how often each nuisance place is walked in one outing, from 0 to 100.</summary>
    public int NuisanceWalksPerOuting { get; init => field = (int)Finite.Within(value, 0, 100, "Nuisance walks of an outing", "walks"); } = 2;

    /// <summary>Gets the seed.</summary>
    public ulong Seed { get; init; } = 1;

    /// <summary>Gets the line that is walked; null for straight ahead past the last obstacle.</summary>
    public TrialPath? Path { get; init; }

    /// <summary>Gets the spread of the walking speed as a share of it, from 0 to 0.3. [unitless]</summary>
    public double SpeedSpreadFraction { get; init => field = Finite.Within(value, 0, 0.3, "Spread of the speed", "(no unit)"); } = 0.1;

    /// <summary>Gets the spread of the angle at which the head is held, from 0 to 10. [°]</summary>
    public double HeadSpreadDegrees { get; init => field = Finite.Within(value, 0, 10, "Spread of the head angle", "°"); } = 4;

    /// <summary>Gets the spread of the lean of the trunk, from 0 to 10. [°]</summary>
    public double TrunkSpreadDegrees { get; init => field = Finite.Within(value, 0, 10, "Spread of the trunk lean", "°"); } = 2;

    /// <summary>Gets the share of the tolerance of each mount over which it may be off, evenly both ways, from 0 to 2. [unitless]</summary>
    public double MountSpreadFraction { get; init => field = Finite.Within(value, 0, 2, "Spread of the mounts", "(no unit)"); } = 1;

    /// <summary>Gets the spread of the air temperature, from 0 to 15. [K]</summary>
    public double TemperatureSpreadKelvins { get; init => field = Finite.Within(value, 0, 15, "Spread of the temperature", "K"); } = 5;

    /// <summary>Gets the spread of the relative humidity, from 0 to 40. [%]</summary>
    public double HumiditySpreadPercent { get; init => field = Finite.Within(value, 0, 40, "Spread of the humidity", "%"); } = 12;

    /// <summary>Gets the spread of the sensitivity from part to part, from 0 to 6. [dB]</summary>
    public double PartSpreadDecibels { get; init => field = Finite.Within(value, 0, 6, "Spread of the parts", "dB"); } = 1.5;

    /// <summary>Gets the spread of an echo from ping to ping, from 0 to 6: moving air and small movements. [dB]</summary>
    public double PingSpreadDecibels { get; init => field = Finite.Within(value, 0, 6, "Spread of the pings", "dB"); } = 1;

    /// <summary>Gets the spread of the place beside the line at the start, from 0 to 0.5. [m]</summary>
    public double AsideSpreadMetres { get; init => field = Finite.Within(value, 0, 0.5, "Spread of the start", "m"); } = 0.08;

    /// <summary>Gets the spread of the heading at the start, from 0 to 10. [°]</summary>
    public double HeadingSpreadDegrees { get; init => field = Finite.Within(value, 0, 10, "Spread of the heading", "°"); } = 3;

    /// <summary>Gets the spread by which a step turns the heading, from 0 to 5. [°]</summary>
    public double VeerDegrees { get; init => field = Finite.Within(value, 0, 5, "Veer", "°"); } = 1;

    /// <summary>Gets the length within which the wearer turns back to the line, from 1 to 1000. [m]</summary>
    public double CorrectionMetres { get; init => field = Finite.Within(value, 1, 1000, "Correction length", "m"); } = 4;

    /// <summary>Gets the times in which the device does not look; none unless given.</summary>
    public ImmutableArray<AwayTime> Away { get; init; } = [];

    /// <summary>Gets the step in which the device tells range, from 0 to 0.5. [m]</summary>
    public double RangeStepMetres { get; init => field = Finite.Within(value, 0, 0.5, "Range step", "m"); } = 0.01;

    /// <summary>Gets how often the burst of another wearer's device is loud enough to be taken for an echo, 0 to 100. [1/s]</summary>
    public double OtherBurstsPerSecond { get; init => field = Finite.Within(value, 0, 100, "Bursts of other devices", "1/s"); }

    /// <summary>Gets how long before the last useful moment an alert still counts, from 0.5 to 60: what was alerted earlier and not
    /// again is taken as forgotten. [s]</summary>
    public double MemorySeconds { get; init => field = Finite.Within(value, 0.5, 60, "Memory of an alert", "s"); } = 5;

    /// <summary>Gets the number of outings.</summary>
    public int Outings => (Walks + WalksPerOuting - 1) / WalksPerOuting;
}
