using SonarGeom.Air;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes;

/// <summary>The air that echoes travel through: still, uniform.</summary>
/// <param name="Air">Its state.</param>
/// <param name="Model">The formula of the speed of sound.</param>
public sealed record EchoMedium(AirState Air, SoundSpeedModel Model = SoundSpeedModel.Humid)
{
    /// <summary>Decibels of amplitude in one neper: 20·log10(e).</summary>
    internal const double DecibelsPerNeper = 8.685889638065035;

    /// <summary>Gets air at 20 °C, 50 % relative humidity and standard pressure.</summary>
    public static EchoMedium Standard { get; } = new(AirState.Standard);

    /// <summary>Gets the speed of sound. [m/s]</summary>
    public double SoundSpeedMetresPerSecond { get; } = SoundSpeed.InMetresPerSecond(Air, Model);

    /// <summary>Returns the absorption, one way. [dB/m]</summary>
    /// <param name="frequency">The frequency.</param>
    public double AbsorptionDecibelsPerMetre(Frequency frequency) => AirAbsorption.DecibelsPerMetre(Air, frequency);

    /// <summary>Returns the wavenumber 2πf/c. [rad/m]</summary>
    /// <param name="frequency">The frequency.</param>
    public double WavenumberRadiansPerMetre(Frequency frequency) => 2 * Math.PI * frequency.Hertz / SoundSpeedMetresPerSecond;
}
