using SonarGeom.Quantities;

namespace SonarGeom.Obstacles;

/// <summary>
/// A ground surface: how smooth it is as a mirror and how much it scatters back. No measured airborne figure at 40 kHz was
/// found for paving, so every preset is an assumption and says so.
/// </summary>
/// <param name="Name">The surface in one or two words.</param>
/// <param name="RoughnessRmsMetres">Root-mean-square height, 0 to 0.5. [m]</param>
/// <param name="LambertDecibels">
/// 10·log10 µ of Lambert's law for the backscatter of unit area at 1 m, <c>S = 10 log µ + 20 log sin ψ</c> with ψ the grazing
/// angle; at most −4.97 (µ = 1/π, everything scattered). [dB]
/// </param>
/// <param name="Source">Where the two figures come from.</param>
/// <param name="Confidence">How sure they are.</param>
public sealed record Ground(string Name, double RoughnessRmsMetres, double LambertDecibels, string Source, string Confidence)
{
    private const string Assumed = "assumption; underwater rock at 20° grazing gives 10 log µ of −21 to −11 dB, nothing airborne at 40 kHz was found";

    /// <summary>Gets the root-mean-square height. [m]</summary>
    public double RoughnessRmsMetres { get; init; } = Finite.Within(RoughnessRmsMetres, 0, 0.5, nameof(RoughnessRmsMetres), "m");

    /// <summary>Gets 10·log10 µ of Lambert's law. [dB]</summary>
    public double LambertDecibels { get; init; } = Finite.Within(LambertDecibels, -100, -4.97, nameof(LambertDecibels), "dB");

    /// <summary>Gets polished or glazed tile, linoleum, sealed concrete.</summary>
    public static Ground SmoothTile { get; } =
        new("smooth tile", 0.05e-3, -30, "0.05 mm rms scatters 0.5 % of the energy (1 − exp(−Γ²) at normal incidence): 10 log µ ≈ −28 dB", "assumption ±6 dB");

    /// <summary>Gets concrete paving slabs.</summary>
    public static Ground Paving { get; } = new("paving slabs", 0.3e-3, -20, Assumed, "assumption ±6 dB");

    /// <summary>Gets worn asphalt.</summary>
    public static Ground Asphalt { get; } = new("asphalt", 0.8e-3, -15, Assumed, "assumption ±6 dB");

    /// <summary>Gets loose gravel.</summary>
    public static Ground Gravel { get; } = new("gravel", 5e-3, -9, Assumed + "; stones larger than the wavelength scatter nearly everything", "assumption ±4 dB");

    /// <summary>Gets cut grass.</summary>
    public static Ground Grass { get; } = new("grass", 15e-3, -15, Assumed, "assumption ±6 dB");

    /// <summary>Gets the presets, smoothest first.</summary>
    public static IReadOnlyList<Ground> Presets { get; } = [SmoothTile, Paving, Asphalt, Gravel, Grass];
}
