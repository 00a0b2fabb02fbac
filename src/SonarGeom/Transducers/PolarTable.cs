using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>A measured beam: a polar response in one plane, turned about the boresight, or in the horizontal and the vertical plane.</summary>
/// <remarks>
/// With two planes the level at an angle θ off axis, rolled φ from the left towards up, is
/// <c>L_h(θ)·cos²φ + L_v(θ)·sin²φ</c>: exact for beams whose level is quadratic in the direction cosines, and a usual
/// assumption otherwise. The table holds at its nominal frequency and is used over the whole band.
/// </remarks>
public sealed class PolarTable : Directivity
{
    // An exponential is several times faster than a power of ten.
    private const double NepersPerDecibel = 0.11512925464970228;

    /// <summary>Makes a beam that is the same in every plane through the boresight.</summary>
    /// <param name="cut">The measured response.</param>
    public PolarTable(PolarCut cut)
        : this(cut, cut)
    {
    }

    /// <summary>Makes a beam from two planes.</summary>
    /// <param name="horizontal">The response in the plane of boresight and left.</param>
    /// <param name="vertical">The response in the plane of boresight and up.</param>
    public PolarTable(PolarCut horizontal, PolarCut vertical)
    {
        ArgumentNullException.ThrowIfNull(horizontal);
        ArgumentNullException.ThrowIfNull(vertical);
        Horizontal = horizontal;
        Vertical = vertical;
    }

    /// <summary>Gets the response in the horizontal plane of the sensor frame.</summary>
    public PolarCut Horizontal { get; }

    /// <summary>Gets the response in the vertical plane of the sensor frame.</summary>
    public PolarCut Vertical { get; }

    /// <inheritdoc/>
    public override bool IsAxisymmetric => ReferenceEquals(Horizontal, Vertical);

    /// <inheritdoc/>
    public override bool DependsOnWavenumber => false;

    /// <inheritdoc/>
    public override string Description
    {
        get
        {
            Angle last = Horizontal.LastAngle < Vertical.LastAngle ? Horizontal.LastAngle : Vertical.LastAngle;
            string planes = IsAxisymmetric
                ? $"measured polar table of {Horizontal.Points.Length} points"
                : $"measured polar tables, {Horizontal.Points.Length} points horizontal and {Vertical.Points.Length} vertical";
            return last.Degrees < 90 - 1e-9
                ? $"{planes}, continued at the last slope beyond {last}"
                : planes;
        }
    }

    /// <inheritdoc/>
    public override double Amplitude(Vec3 unitDirection, double wavenumberRadiansPerMetre)
    {
        if (!(unitDirection.X > 0))
        {
            return 0;
        }

        double angle = OffAxisRadians(unitDirection);
        double level = Horizontal.LevelDecibels(angle);
        if (!IsAxisymmetric)
        {
            double left = unitDirection.Y * unitDirection.Y;
            double up = unitDirection.Z * unitDirection.Z;
            if (left + up > 0)
            {
                level += up / (left + up) * (Vertical.LevelDecibels(angle) - level);
            }
        }

        return Math.Exp(NepersPerDecibel * level);
    }
}
