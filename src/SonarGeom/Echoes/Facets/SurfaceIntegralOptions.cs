using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Facets;

/// <summary>How the surface integral is carried out.</summary>
/// <param name="SubdivisionRatio">Facets are split until their radius d has d² below λR over this number, R being the harmonic
/// mean of the two distances; from 16 to 65 536. At 256 the bulge of the wave fronts is below 0.025 rad at the corners; its mean is
/// kept. Parallelograms, for which the bulge is kept to first order, may be twice as wide.</param>
/// <param name="ShadowSamplesPerFacet">Rays to transmitter and to receiver from each facet after subdivision: 1 (its centre), or 4
/// (centre and near the corners), when there are occluders.</param>
/// <param name="WithEdgeCorrection">Whether edges get the difference between the exact rigid wedge and the edge of the
/// integral.</param>
/// <param name="WithSingleBounce">Whether the path transmitter – surface – receiver is summed.</param>
/// <param name="WithDoubleBounce">Whether, over ground, paths with one bounce on the ground are summed.</param>
/// <param name="WithTripleBounce">Whether, over ground, paths with a bounce on the ground before and after are summed.</param>
/// <param name="MayUseFastSum">Whether fine meshes may take the fast way over many frequencies.</param>
/// <param name="FarthestPathMetres">Pieces of faces whose whole path is longer than this are left out: what arrives after listening
/// has ended. [m]</param>
public sealed record SurfaceIntegralOptions(
    double SubdivisionRatio = 256.0,
    int ShadowSamplesPerFacet = 1,
    bool WithEdgeCorrection = false,
    bool WithSingleBounce = true,
    bool WithDoubleBounce = true,
    bool WithTripleBounce = true,
    bool MayUseFastSum = true,
    double FarthestPathMetres = double.PositiveInfinity)
{
    /// <summary>Gets the options that are used when none are given.</summary>
    public static SurfaceIntegralOptions Default { get; } = new();

    /// <summary>Gets the divisor of the subdivision.</summary>
    public double SubdivisionRatio { get; init; } =
        Finite.Within(SubdivisionRatio, 16.0, 65536.0, nameof(SubdivisionRatio), "(no unit)");

    /// <summary>Gets the number of shadow rays per facet.</summary>
    public int ShadowSamplesPerFacet { get; init; } = ShadowSamplesPerFacet is 1 or 4
        ? ShadowSamplesPerFacet
        : throw new ArgumentOutOfRangeException(nameof(ShadowSamplesPerFacet), $"The number of shadow rays is {ShadowSamplesPerFacet}; it must be 1 or 4.");
}
