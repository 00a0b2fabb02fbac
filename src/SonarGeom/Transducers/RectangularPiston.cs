using SonarGeom.Geometry;

namespace SonarGeom.Transducers;

/// <summary>A flat rectangular piston in a rigid baffle.</summary>
/// <remarks>
/// Formula: <c>D = sinc(k·w·u/2)·sinc(k·h·v/2)</c>, <c>sinc x = sin x / x</c>, u and v the direction cosines to the left and up.
/// Source: Beranek and Mellow, Acoustics, 2nd ed., Eq. (13.17) (seen second-hand).
/// </remarks>
public sealed class RectangularPiston : Directivity
{
    /// <summary>Makes a piston.</summary>
    /// <param name="widthMetres">The full width along Y, above 0 and at most 1. [m]</param>
    /// <param name="heightMetres">The full height along Z, above 0 and at most 1. [m]</param>
    /// <exception cref="ArgumentOutOfRangeException">A size is outside its range.</exception>
    public RectangularPiston(double widthMetres, double heightMetres)
    {
        WidthMetres = PositiveMetres(widthMetres, nameof(widthMetres));
        HeightMetres = PositiveMetres(heightMetres, nameof(heightMetres));
    }

    /// <summary>Gets the full width along Y. [m]</summary>
    public double WidthMetres { get; }

    /// <summary>Gets the full height along Z. [m]</summary>
    public double HeightMetres { get; }

    /// <inheritdoc/>
    public override bool IsAxisymmetric => false;

    /// <inheritdoc/>
    public override bool DependsOnWavenumber => true;

    /// <inheritdoc/>
    public override string Description =>
        $"rectangular piston, {WidthMetres * 1000:0.0##} mm wide, {HeightMetres * 1000:0.0##} mm high";

    /// <inheritdoc/>
    public override double Amplitude(Vec3 unitDirection, double wavenumberRadiansPerMetre)
    {
        double half = 0.5 * wavenumberRadiansPerMetre;
        return unitDirection.X > 0
            ? Sinc(half * WidthMetres * unitDirection.Y) * Sinc(half * HeightMetres * unitDirection.Z)
            : 0;
    }

    /// <summary>sin x / x; its first two terms below 1e-4 err by less than 1e-17.</summary>
    internal static double Sinc(double x) => Math.Abs(x) < 1e-4 ? 1 - (x * x / 6) : Math.Sin(x) / x;
}
