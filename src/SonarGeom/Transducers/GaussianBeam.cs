using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>A beam without side lobes, <c>D = exp(−(θ/θₑ)²)</c>, through one stated point.</summary>
/// <remarks>A fit, not physics: fitted at −6 dB it misses a piston by up to 0.8 dB inside the −10 dB contour (30° to 80° full
/// angle) and has no side lobes. The same at every frequency.</remarks>
public sealed class GaussianBeam : Directivity
{
    private readonly double _inverseSquare;

    /// <summary>Makes a beam.</summary>
    /// <param name="halfAngle">The angle off axis, above 0° and below 90°.</param>
    /// <param name="levelDecibels">The level there, one way, below 0. [dB]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    public GaussianBeam(Angle halfAngle, double levelDecibels)
    {
        Finite.Within(halfAngle.Degrees, 0.1, 89.9, nameof(halfAngle), "°");
        HalfAngle = halfAngle;
        LevelDecibels = Finite.Within(levelDecibels, -60, -0.01, nameof(levelDecibels), "dB");
        _inverseSquare = -LevelDecibels * Math.Log(10) / 20 / (halfAngle.Radians * halfAngle.Radians);
    }

    /// <summary>Gets the angle off axis at which the level is stated.</summary>
    public Angle HalfAngle { get; }

    /// <summary>Gets the level stated there, one way. [dB]</summary>
    public double LevelDecibels { get; }

    /// <summary>Gets the angle θₑ at which the amplitude is 1/e.</summary>
    public Angle FoldingAngle => Angle.FromRadians(1 / Math.Sqrt(_inverseSquare));

    /// <inheritdoc/>
    public override bool IsAxisymmetric => true;

    /// <inheritdoc/>
    public override bool DependsOnWavenumber => false;

    /// <inheritdoc/>
    public override string Description =>
        $"Gaussian beam, {LevelDecibels:0.##} dB one way at {HalfAngle} off axis, no side lobes";

    /// <inheritdoc/>
    public override double Amplitude(Vec3 unitDirection, double wavenumberRadiansPerMetre)
    {
        if (!(unitDirection.X > 0))
        {
            return 0;
        }

        double angle = OffAxisRadians(unitDirection);
        return Math.Exp(-angle * angle * _inverseSquare);
    }
}
