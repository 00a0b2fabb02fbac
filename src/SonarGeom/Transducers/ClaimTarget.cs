using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>A rigid target of a detection claim: square on, centred on the line of sight, nothing else near it.</summary>
/// <remarks>A range means nothing without its target: a large wall sends a small module's echo back from 4 m, a thin rod from 1 m.</remarks>
public abstract record ClaimTarget
{
    private protected ClaimTarget()
    {
    }

    /// <summary>Gets the target in words, with its sizes.</summary>
    public abstract string Description { get; }

    /// <summary>Returns the effective reflection length at a range: echo pressure times range squared over source pressure at 1 m. [m]</summary>
    /// <param name="rangeMetres">The range to the nearest point of the target, above 0. [m]</param>
    /// <param name="wavenumberRadiansPerMetre">The wavenumber, above 0. [rad/m]</param>
    public abstract double ReflectionLengthMetres(double rangeMetres, double wavenumberRadiansPerMetre);

    /// <summary>Returns the two-way loss of an echo on the boresight: spreading out and back, absorption and reflection. [dB]</summary>
    /// <param name="rangeMetres">The range to the nearest point of the target, above 0. [m]</param>
    /// <param name="wavenumberRadiansPerMetre">The wavenumber, above 0. [rad/m]</param>
    /// <param name="absorptionDecibelsPerMetre">The absorption coefficient, 0 or above. [dB/m]</param>
    /// <remarks>Formula: <c>40·log₁₀ R + 2·α·R − 20·log₁₀|f|</c>.</remarks>
    public double TwoWayLossDecibels(
        double rangeMetres, double wavenumberRadiansPerMetre, double absorptionDecibelsPerMetre) =>
        (2 * Decibels.FromAmplitudeRatio(rangeMetres)) + (2 * absorptionDecibelsPerMetre * rangeMetres)
        - Decibels.FromAmplitudeRatio(ReflectionLengthMetres(rangeMetres, wavenumberRadiansPerMetre));

    /// <summary>Returns the largest range at which a continuous tone on the boresight still reaches the threshold; 0 when it never does. [m]</summary>
    /// <param name="figureOfMeritDecibels">The figure of merit, the same at every range. [dB]</param>
    /// <param name="wavenumberRadiansPerMetre">The wavenumber, above 0. [rad/m]</param>
    /// <param name="absorptionDecibelsPerMetre">The absorption coefficient, 0 or above. [dB/m]</param>
    /// <remarks>Looked for from 50 m inwards in steps of 0.5 %, so that the last crossing is found when a plate's echo swings.</remarks>
    public double LargestRangeMetres(
        double figureOfMeritDecibels, double wavenumberRadiansPerMetre, double absorptionDecibelsPerMetre)
    {
        double far = 50;
        double near = far;
        while (Excess(near) < 0)
        {
            far = near;
            near /= 1.005;
            if (near < 0.02)
            {
                return 0;
            }
        }

        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (near + far);
            (near, far) = Excess(middle) < 0 ? (near, middle) : (middle, far);
        }

        return near;

        double Excess(double range) =>
            figureOfMeritDecibels - TwoWayLossDecibels(range, wavenumberRadiansPerMetre, absorptionDecibelsPerMetre);
    }

    /// <summary>Refuses a size that is not from 1 mm to 20 m.</summary>
    private protected static double Size(double metres, string name) => Finite.Within(metres, 1e-3, 20, name, "m");
}

/// <summary>A wall, much larger than the first Fresnel zone, square to the line of sight: a mirror.</summary>
public sealed record WallTarget : ClaimTarget
{
    /// <inheritdoc/>
    public override string Description => "large wall";

    /// <inheritdoc/>
    /// <remarks>Formula: <c>R/2</c>, the image source. Exact.</remarks>
    public override double ReflectionLengthMetres(double rangeMetres, double wavenumberRadiansPerMetre) => 0.5 * rangeMetres;
}

/// <summary>A round pole across the line of sight.</summary>
/// <param name="DiameterMetres">The diameter, 0.001 to 20. [m]</param>
/// <param name="LengthMetres">The length, half on each side of the line of sight, 0.001 to 20. [m]</param>
public sealed record PoleTarget(double DiameterMetres, double LengthMetres) : ClaimTarget
{
    /// <summary>Gets the diameter. [m]</summary>
    public double DiameterMetres { get; init => field = Size(value, nameof(DiameterMetres)); } = Size(DiameterMetres, nameof(DiameterMetres));

    /// <summary>Gets the length. [m]</summary>
    public double LengthMetres { get; init => field = Size(value, nameof(LengthMetres)); } = Size(LengthMetres, nameof(LengthMetres));

    /// <inheritdoc/>
    public override string Description => $"pole of {DiameterMetres * 1000:0.#} mm, {LengthMetres:0.##} m long";

    /// <inheritdoc/>
    /// <remarks>Formula: <c>√(a/(2λ))·√(R/(R + a))·|F|</c>, F the Fresnel integral over the length; a long pole gives
    /// <c>(R/2)·√(a/(a + R))</c>. Stationary phase round the circumference: within 0.3 dB from 20 mm at 40 kHz.</remarks>
    public override double ReflectionLengthMetres(double rangeMetres, double wavenumberRadiansPerMetre)
    {
        double radius = 0.5 * DiameterMetres;
        double wavelength = 2 * Math.PI / wavenumberRadiansPerMetre;
        return Math.Sqrt(radius / (2 * wavelength) * rangeMetres / (rangeMetres + radius))
            * FresnelLength.Centred(LengthMetres, rangeMetres, wavenumberRadiansPerMetre);
    }
}

/// <summary>A sphere.</summary>
/// <param name="DiameterMetres">The diameter, 0.001 to 20. [m]</param>
public sealed record SphereTarget(double DiameterMetres) : ClaimTarget
{
    /// <summary>Gets the diameter. [m]</summary>
    public double DiameterMetres { get; init => field = Size(value, nameof(DiameterMetres)); } = Size(DiameterMetres, nameof(DiameterMetres));

    /// <inheritdoc/>
    public override string Description => $"sphere of {DiameterMetres * 1000:0.#} mm";

    /// <inheritdoc/>
    /// <remarks>Formula: <c>(R/2)·a/(a + R)</c>, geometrical acoustics; within 0.3 dB when the circumference is above 10
    /// wavelengths.</remarks>
    public override double ReflectionLengthMetres(double rangeMetres, double wavenumberRadiansPerMetre)
    {
        double radius = 0.5 * DiameterMetres;
        return 0.5 * rangeMetres * radius / (radius + rangeMetres);
    }
}

/// <summary>A flat rectangular plate, square to the line of sight.</summary>
/// <param name="WidthMetres">The width, 0.001 to 20. [m]</param>
/// <param name="HeightMetres">The height, 0.001 to 20. [m]</param>
public sealed record PlateTarget(double WidthMetres, double HeightMetres) : ClaimTarget
{
    /// <summary>Gets the width. [m]</summary>
    public double WidthMetres { get; init => field = Size(value, nameof(WidthMetres)); } = Size(WidthMetres, nameof(WidthMetres));

    /// <summary>Gets the height. [m]</summary>
    public double HeightMetres { get; init => field = Size(value, nameof(HeightMetres)); } = Size(HeightMetres, nameof(HeightMetres));

    /// <inheritdoc/>
    public override string Description => $"flat plate of {WidthMetres:0.###} m by {HeightMetres:0.###} m, square on";

    /// <inheritdoc/>
    /// <remarks>Formula: <c>|F(w)|·|F(h)|/λ</c>; Kirchhoff's integral with the phase to second order: within 0.05 dB while the
    /// sides are below a fifth of the range, 1 dB when they equal it.</remarks>
    public override double ReflectionLengthMetres(double rangeMetres, double wavenumberRadiansPerMetre) =>
        FresnelLength.Centred(WidthMetres, rangeMetres, wavenumberRadiansPerMetre)
        * FresnelLength.Centred(HeightMetres, rangeMetres, wavenumberRadiansPerMetre)
        * wavenumberRadiansPerMetre / (2 * Math.PI);
}

/// <summary>A flat round plate, square to the line of sight.</summary>
/// <param name="DiameterMetres">The diameter, 0.001 to 20. [m]</param>
public sealed record DiscTarget(double DiameterMetres) : ClaimTarget
{
    /// <summary>Gets the diameter. [m]</summary>
    public double DiameterMetres { get; init => field = Size(value, nameof(DiameterMetres)); } = Size(DiameterMetres, nameof(DiameterMetres));

    /// <inheritdoc/>
    public override string Description => $"flat disc of {DiameterMetres * 1000:0.#} mm, square on";

    /// <inheritdoc/>
    /// <remarks>Formula: <c>R²·|1/(2R) − R·e^(2ik(R_b − R))/(2·R_b²)|</c>, <c>R_b = √(R² + b²)</c>: Kirchhoff's integral on the
    /// axis, exact at any range.</remarks>
    public override double ReflectionLengthMetres(double rangeMetres, double wavenumberRadiansPerMetre)
    {
        double radius = 0.5 * DiameterMetres;
        double rimSquared = (rangeMetres * rangeMetres) + (radius * radius);

        // R_b − R without cancellation.
        double extra = radius * radius / (Math.Sqrt(rimSquared) + rangeMetres);
        double rim = rangeMetres * rangeMetres / rimSquared;
        (double sine, double cosine) = Math.SinCos(2 * wavenumberRadiansPerMetre * extra);
        double real = 1 - (rim * cosine);
        double imaginary = -rim * sine;
        return 0.5 * rangeMetres * Math.Sqrt((real * real) + (imaginary * imaginary));
    }
}
