namespace SonarGeom.Echoes.Facets;

/// <summary>Level, evenly rough ground that mirrors sound: it gives transmitter and receiver an image each.</summary>
/// <param name="HeightMetres">Height of the ground, world frame. [m]</param>
/// <param name="RoughnessRmsMetres">Root-mean-square height of the roughness, from 0. [m]</param>
/// <param name="ReflectionLossDecibels">Loss at each bounce from the material, from 0. [dB]</param>
public sealed record GroundMirror(double HeightMetres, double RoughnessRmsMetres, double ReflectionLossDecibels = 0.0)
{
    /// <summary>Returns the coherent amplitude left by one bounce. [unitless]</summary>
    /// <param name="wavenumberRadiansPerMetre">The wavenumber. [rad/m]</param>
    /// <param name="grazingSine">Sine of the angle between the ray and the ground.</param>
    /// <remarks>exp(−Γ²/2), Γ = 2kσ sin ψ: Beckmann and Spizzichino, The Scattering of Electromagnetic Waves from Rough Surfaces
    /// (1963); from memory.</remarks>
    public double CoherentAmplitude(double wavenumberRadiansPerMetre, double grazingSine)
    {
        double gamma = 2.0 * wavenumberRadiansPerMetre * RoughnessRmsMetres * grazingSine;
        return Math.Exp((-0.5 * gamma * gamma) - (FacetMedium.NepersPerDecibel * ReflectionLossDecibels));
    }
}
