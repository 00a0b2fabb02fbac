using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>A beam without side lobes, <c>D = cosⁿ θ</c>: the simplest fit of a wide open-type transducer.</summary>
/// <remarks>A fit, not physics; the same at every frequency.</remarks>
public sealed class CosinePowerBeam : Directivity
{
    /// <summary>Makes a beam.</summary>
    /// <param name="exponent">The exponent n, from 0 (even over the half space) to 2000. [unitless]</param>
    /// <exception cref="ArgumentOutOfRangeException">The exponent is outside its range.</exception>
    public CosinePowerBeam(double exponent) => Exponent = Finite.Within(exponent, 0, 2000, nameof(exponent), "(no unit)");

    /// <summary>Gets the exponent n of the pressure. [unitless]</summary>
    public double Exponent { get; }

    /// <inheritdoc/>
    public override bool IsAxisymmetric => true;

    /// <inheritdoc/>
    public override bool DependsOnWavenumber => false;

    /// <inheritdoc/>
    public override string Description => $"cosine to the power {Exponent:0.###}, no side lobes";

    /// <summary>Makes the beam that has a given level at a given angle off axis.</summary>
    /// <param name="halfAngle">The angle off axis, above 0° and below 90°.</param>
    /// <param name="levelDecibels">The level there, one way, below 0. [dB]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    public static CosinePowerBeam FromHalfAngle(Angle halfAngle, double levelDecibels)
    {
        Finite.Within(halfAngle.Degrees, 0.1, 89.9, nameof(halfAngle), "°");
        Finite.Within(levelDecibels, -60, -0.01, nameof(levelDecibels), "dB");
        return new CosinePowerBeam(levelDecibels / Decibels.FromAmplitudeRatio(Math.Cos(halfAngle.Radians)));
    }

    /// <inheritdoc/>
    public override double Amplitude(Vec3 unitDirection, double wavenumberRadiansPerMetre) =>
        unitDirection.X > 0 ? Math.Pow(unitDirection.X, Exponent) : 0;
}
