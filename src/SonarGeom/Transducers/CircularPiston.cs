using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>A flat circular piston in a rigid baffle.</summary>
/// <remarks>
/// Formula: <c>D = 2·J₁(x)/x</c>, <c>x = k·a·sin θ</c>, signed: lobes alternate. Source: Kinsler, Frey, Coppens and Sanders,
/// Fundamentals of Acoustics, 4th ed., §7.4 (from memory). Wide open-type transducers (−6 dB beyond 45° off axis) are not
/// pistons: use a cosine power or a measured table.
/// </remarks>
public sealed class CircularPiston : Directivity
{
    /// <summary>Makes a piston.</summary>
    /// <param name="radiusMetres">The effective radius, above 0 and at most 1. [m]</param>
    /// <exception cref="ArgumentOutOfRangeException">The radius is outside its range.</exception>
    public CircularPiston(double radiusMetres) => RadiusMetres = PositiveMetres(radiusMetres, nameof(radiusMetres));

    /// <summary>Gets the effective radius. [m]</summary>
    public double RadiusMetres { get; }

    /// <inheritdoc/>
    public override bool IsAxisymmetric => true;

    /// <inheritdoc/>
    public override bool DependsOnWavenumber => true;

    /// <inheritdoc/>
    public override string Description => $"circular piston, radius {RadiusMetres * 1000:0.0##} mm";

    /// <summary>Makes the piston whose one-way level falls to a given level at a given angle off axis.</summary>
    /// <param name="halfAngle">The angle off axis, above 0° and below 90°.</param>
    /// <param name="levelDecibels">The level there, one way, below 0 and above −60. [dB]</param>
    /// <param name="wavenumberRadiansPerMetre">2π over the wavelength at which the beam was stated. [rad/m]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    /// <remarks>The radius belongs to the part; the beam then follows temperature and frequency.</remarks>
    public static CircularPiston FromHalfAngle(Angle halfAngle, double levelDecibels, double wavenumberRadiansPerMetre)
    {
        Finite.Within(halfAngle.Degrees, 0.1, 89.9, nameof(halfAngle), "°");
        Finite.Within(levelDecibels, -60, -0.01, nameof(levelDecibels), "dB");
        return new CircularPiston(
            PhaseAtLevel(levelDecibels) / (wavenumberRadiansPerMetre * Math.Sin(halfAngle.Radians)));
    }

    /// <inheritdoc/>
    public override double Amplitude(Vec3 unitDirection, double wavenumberRadiansPerMetre) =>
        unitDirection.X > 0
            ? PistonPattern.Evaluate(wavenumberRadiansPerMetre * (RadiusMetres * SineOffAxis(unitDirection)))
            : 0;

    /// <inheritdoc/>
    public override void Amplitudes(
        Vec3 unitDirection, ReadOnlySpan<double> wavenumbersRadiansPerMetre, Span<double> amplitudes)
    {
        double reach = RadiusMetres * SineOffAxis(unitDirection);
        for (int i = 0; i < wavenumbersRadiansPerMetre.Length; i++)
        {
            amplitudes[i] = unitDirection.X > 0 ? PistonPattern.Evaluate(wavenumbersRadiansPerMetre[i] * reach) : 0;
        }
    }

    /// <inheritdoc/>
    /// <remarks>Exact: <c>10·log₁₀{(ka)² / [1 − 2·J₁(2ka)/(2ka)]}</c>, Kinsler et al., 4th ed., §7.6 (from memory).</remarks>
    public override double DirectivityIndexDecibels(double wavenumberRadiansPerMetre)
    {
        double ka = wavenumberRadiansPerMetre * RadiusMetres;
        return ka < 1e-3
            ? Decibels.FromPowerRatio(2)
            : Decibels.FromPowerRatio(ka * ka / (1 - PistonPattern.Evaluate(2 * ka)));
    }

    /// <summary>The x = k·a·sin θ of the main lobe at which the pattern has a level below 0 dB. [rad]</summary>
    internal static double PhaseAtLevel(double levelDecibels)
    {
        double target = Decibels.ToAmplitudeRatio(levelDecibels);
        double inside = 0;
        double outside = PistonPattern.FirstZeroRadians;
        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (inside + outside);
            (inside, outside) = PistonPattern.Evaluate(middle) > target ? (middle, outside) : (inside, middle);
        }

        return 0.5 * (inside + outside);
    }
}
