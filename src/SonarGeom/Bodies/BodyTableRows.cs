using System.Collections.Immutable;

namespace SonarGeom.Bodies;

/// <summary>One measure of surveyed adults. Metres, or kilograms for the mass.</summary>
/// <param name="Count">Number of people measured.</param>
/// <param name="Mean">Mean.</param>
/// <param name="StandardDeviation">Standard deviation.</param>
/// <param name="Percentiles">Values at <see cref="Levels"/>.</param>
/// <param name="Definition">How it is measured.</param>
/// <param name="Source">Key of the source.</param>
public sealed record AdultPercentiles(
    int Count, double Mean, double StandardDeviation, ImmutableArray<double> Percentiles, string Definition, string Source)
{
    /// <summary>Gets the percentiles that are tabled.</summary>
    public static ImmutableArray<double> Levels { get; } = [1, 5, 25, 50, 75, 95, 99];

    /// <summary>Returns the value at a percentile, between tabled ones along the normal distribution.</summary>
    /// <param name="percentile">From 1 to 99.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="percentile"/> is outside 1 to 99.</exception>
    public double At(double percentile) => PercentileScale.Interpolate(Levels, Percentiles, percentile);
}

/// <summary>Least-squares line of a measure of surveyed adults on stature, and its slope on the mass left over after stature.</summary>
/// <param name="SlopePerMetre">Rise per metre of stature. [m/m], or [kg/m]</param>
/// <param name="Intercept">Value at zero stature. [m], or [kg]</param>
/// <param name="Correlation">Correlation with stature. [unitless]</param>
/// <param name="StandardError">Standard error about the line. [m], or [kg]</param>
/// <param name="SlopePerKilogram">Rise per kilogram of mass above that expected for the stature. [m/kg]</param>
/// <param name="StandardErrorGivenMass">Standard error when the mass is known too. [m]</param>
/// <param name="Source">Key of the source.</param>
public sealed record AdultRegression(
    double SlopePerMetre,
    double Intercept,
    double Correlation,
    double StandardError,
    double SlopePerKilogram,
    double StandardErrorGivenMass,
    string Source);

/// <summary>Stature of children of one sex and age.</summary>
/// <param name="Sex">Sex.</param>
/// <param name="AgeYears">Age. [years]</param>
/// <param name="Percentiles">Statures at <see cref="Levels"/>. [m]</param>
/// <param name="Source">Key of the source.</param>
public sealed record ChildStature(Sex Sex, double AgeYears, ImmutableArray<double> Percentiles, string Source)
{
    /// <summary>Gets the percentiles that are tabled.</summary>
    public static ImmutableArray<double> Levels { get; } = [1, 3, 5, 25, 50, 75, 95, 97, 99];
}

/// <summary>One measure of children of one sex and age as a share of their own stature.</summary>
/// <param name="AgeYears">Age. [years]</param>
/// <param name="Count">Number of children measured.</param>
/// <param name="Ratio">Mean of measure over stature; for the mass, of mass over squared stature. [unitless], or [kg/m²]</param>
/// <param name="RatioDeviation">Standard deviation of the ratio. Same unit.</param>
/// <param name="SlopePerKilogram">Rise per kilogram of mass above that expected for the stature. [m/kg]</param>
/// <param name="StandardErrorGivenMass">Standard error when the mass is known too. [m]</param>
/// <param name="Source">Key of the source.</param>
public sealed record ChildProportion(
    double AgeYears, int Count, double Ratio, double RatioDeviation, double SlopePerKilogram, double StandardErrorGivenMass, string Source);

/// <summary>Height of an occupied wheelchair seat.</summary>
/// <param name="MeanMetres">Mean. [m]</param>
/// <param name="DeviationMetres">Standard deviation. [m]</param>
/// <param name="Source">Key of the source.</param>
public sealed record SeatHeight(double MeanMetres, double DeviationMetres, string Source);

/// <summary>How far a part of the body moves in a stride at one speed.</summary>
/// <param name="Quantity">Name of the movement, such as <c>head_rise</c>.</param>
/// <param name="SpeedMetresPerSecond">Walking speed at which it holds. [m/s]</param>
/// <param name="PeakToPeak">Whole movement. [m], or [°] where the unit says so</param>
/// <param name="CyclesPerStride">1 or 2.</param>
/// <param name="PhaseOfMaximum">Stride phase of the first maximum, 0 at the left heel strike. [unitless]</param>
/// <param name="Unit"><c>m</c> or <c>deg</c>.</param>
/// <param name="Source">Key of the source.</param>
/// <param name="Confidence">How sure it is: a letter A (read in the source) to D (assumed), and words.</param>
public sealed record WalkingExcursion(
    string Quantity,
    double SpeedMetresPerSecond,
    double PeakToPeak,
    int CyclesPerStride,
    double PhaseOfMaximum,
    string Unit,
    string Source,
    string Confidence);

/// <summary>Timing of the stride of adults at one pace.</summary>
/// <param name="Sex">Sex.</param>
/// <param name="AgeFromYears">Youngest age of the group. [years]</param>
/// <param name="SpeedMetresPerSecond">Mean walking speed. [m/s]</param>
/// <param name="StrideSeconds">Mean time of a stride: two steps. [s]</param>
/// <param name="StanceShare">Share of the stride during which a foot is on the ground. [unitless]</param>
/// <param name="StepWidthMetres">Distance between the feet sideways. [m]</param>
/// <param name="Source">Key of the source.</param>
public sealed record StrideTiming(
    Sex Sex, int AgeFromYears, double SpeedMetresPerSecond, double StrideSeconds, double StanceShare, double StepWidthMetres, string Source);

/// <summary>A joint of the leg whose bending is tabled.</summary>
public enum GaitJoint
{
    /// <summary>Hip, thigh forward positive.</summary>
    Hip,

    /// <summary>Knee, bent positive.</summary>
    Knee,

    /// <summary>Ankle, toes up positive.</summary>
    Ankle,
}

/// <summary>The angle of a joint over the stride at one speed, in the plane of walking.</summary>
/// <param name="Joint">The joint.</param>
/// <param name="SpeedMetresPerSecond">Mean walking speed. [m/s]</param>
/// <param name="CoefficientsDegrees">Fourier coefficients a₀, a₁, b₁ … a₈, b₈. [°]</param>
/// <param name="Source">Key of the source.</param>
/// <param name="Confidence">How sure it is: a letter A (read in the source) to D (assumed), and words.</param>
/// <remarks><c>angle(p) = a₀ + Σ aₖ cos 2πkp + bₖ sin 2πkp</c>, p the stride phase, 0 at the heel strike of the same side.</remarks>
public sealed record GaitCurve(
    GaitJoint Joint, double SpeedMetresPerSecond, ImmutableArray<double> CoefficientsDegrees, string Source, string Confidence)
{
    /// <summary>Number of harmonics.</summary>
    public const int Harmonics = 8;
}

/// <summary>A single number that no survey gives.</summary>
/// <param name="Value">The number.</param>
/// <param name="Unit">Its unit.</param>
/// <param name="Source">Key of the source.</param>
/// <param name="Confidence">A (read in the source) to D (assumed).</param>
/// <param name="Meaning">What it stands for.</param>
public sealed record Assumption(double Value, string Unit, string Source, string Confidence, string Meaning);

/// <summary>A source of body numbers.</summary>
/// <param name="Citation">Where to read it.</param>
/// <param name="Limits">For whom it holds, and what it leaves out.</param>
public sealed record BodySource(string Citation, string Limits);
