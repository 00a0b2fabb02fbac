using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes.Facets;

/// <summary>A point source or receiver: the same in all directions. Exact solutions are written for it.</summary>
public sealed class EvenBeam : Directivity
{
    private EvenBeam()
    {
    }

    /// <summary>Gets the only instance.</summary>
    public static EvenBeam Instance { get; } = new();

    /// <inheritdoc/>
    public override bool IsAxisymmetric => true;

    /// <inheritdoc/>
    public override bool DependsOnWavenumber => false;

    /// <inheritdoc/>
    public override string Description => "even in all directions, in front and behind";

    /// <inheritdoc/>
    public override double Amplitude(Vec3 unitDirection, double wavenumberRadiansPerMetre) => 1.0;
}
