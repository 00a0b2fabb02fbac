using System.Collections.Immutable;
using SonarGeom.Coverage;

namespace SonarGeom.Studies;

/// <summary>The share of one band that is warned of in time.</summary>
/// <param name="Band">The band.</param>
/// <param name="WarnedFraction">The share. [unitless]</param>
public readonly record struct BandFraction(HeightBand Band, double WarnedFraction);

/// <summary>What one sensor does at one tilt, everything else unchanged.</summary>
/// <param name="TiltDegrees">Tilt, positive up. [°]</param>
/// <param name="HeadShareFraction">Share of the head band that the whole layout warns of in time. [unitless]</param>
/// <param name="SensorAloneHeadShareFraction">Share of the head band that this sensor alone would warn of in time. [unitless]</param>
/// <param name="FloorMarginDecibels">Largest margin of this sensor's own floor echo over all stride phases; 0 or more is a false alert. [dB]</param>
/// <param name="Shares">Shares of all bands, head first, that the whole layout warns of in time.</param>
/// <param name="Lost">Obstacles warned of in time as mounted and no longer at this tilt.</param>
/// <param name="Gained">Obstacles warned of in time at this tilt and not as mounted.</param>
public sealed record TiltPoint(
    double TiltDegrees, double HeadShareFraction, double SensorAloneHeadShareFraction, double FloorMarginDecibels,
    ImmutableArray<BandFraction> Shares, ImmutableArray<string> Lost, ImmutableArray<string> Gained)
{
    /// <summary>Returns the share of a band. [unitless]</summary>
    /// <param name="band">The band.</param>
    public double ShareOf(HeightBand band) => Shares.First(s => s.Band == band).WarnedFraction;
}

/// <summary>Head-band share and false floor echo of one sensor against its tilt.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="ProbeName">The probe of the head-band share.</param>
/// <param name="CurrentTiltDegrees">The tilt in the layout. [°]</param>
/// <param name="Points">The curve, by rising tilt.</param>
/// <param name="WindowLowDegrees">Lowest tilt of the stretch around the best that keeps both; NaN if there is none. [°]</param>
/// <param name="WindowHighDegrees">Highest tilt of that stretch; NaN if there is none. [°]</param>
public sealed record TiltCurve(
    string Sensor, string ProbeName, double CurrentTiltDegrees, ImmutableArray<TiltPoint> Points, double WindowLowDegrees, double WindowHighDegrees);
