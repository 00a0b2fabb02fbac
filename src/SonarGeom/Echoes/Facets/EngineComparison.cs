using System.Collections.Immutable;
using System.Numerics;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Facets;

/// <summary>How the two engines agree on one part for one sensor.</summary>
/// <param name="PartName">The part.</param>
/// <param name="RangeMetres">Half the path of the dominant return. [m]</param>
/// <param name="ClosedFormDecibels">Band mean of the closed form, re the transmitter's pressure at 1 m. [dB]</param>
/// <param name="SurfaceIntegralDecibels">Band mean of the surface integral, likewise. [dB]</param>
/// <param name="LargestShareOfAllowance">Over the frequencies, the largest difference of magnitudes over what is allowed: at most 1
/// when they agree. [unitless]</param>
/// <param name="OffNormalDegrees">Angle between the surface's normal and the ray at the dominant return; 0 for rounds. [°]</param>
/// <param name="Limit">Why the comparison lies outside the declared limits of one engine; null when it lies inside.</param>
public sealed record EngineDifference(
    string PartName,
    double RangeMetres,
    double ClosedFormDecibels,
    double SurfaceIntegralDecibels,
    double LargestShareOfAllowance,
    double OffNormalDegrees,
    string? Limit)
{
    /// <summary>Band means may differ by this where either lies above the allowance itself. [dB]</summary>
    public const double BandAllowanceDecibels = 0.3;

    /// <summary>Gets the difference of the band means, surface integral less closed form. [dB]</summary>
    public double BandDifferenceDecibels => SurfaceIntegralDecibels - ClosedFormDecibels;

    /// <summary>Gets whether the band means are strong enough to be compared in decibels.</summary>
    public bool IsBandJudged { get; init; }

    /// <summary>Gets whether the two agree, or lie outside the declared limits.</summary>
    public bool IsAccepted =>
        Limit is not null || (LargestShareOfAllowance <= 1.0 && (!IsBandJudged || Math.Abs(BandDifferenceDecibels) <= BandAllowanceDecibels));
}

/// <summary>Computes echoes of parts by closed form and by surface integral and sets them side by side.</summary>
/// <remarks>
/// Near the nulls of an echo decibels mean nothing. Magnitudes at each frequency may differ by 3.5 % of the larger, or by 1 % of an
/// endless wall at the same range on the axis of both beams, whichever is more.
/// </remarks>
public static class EngineComparison
{
    /// <summary>Flat faces whose strongest return leaves at more than this from their normal are outside the limits. [°]</summary>
    public const double GrazingDegrees = 75.0;

    private const double ShareOfEcho = 0.035;
    private const double ShareOfWall = 0.01;

    // A band mean is compared in decibels where its magnitude exceeds this many allowances.
    private const double JudgedAbove = 10.0;

    // Rounds thinner than this are outside the surface integral: creeping waves.
    private const double LeastKa = 5.0;

    /// <summary>Compares the engines on one part; null when there is no surface for it.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The part. Its material loss is the same in both and left out.</param>
    public static EngineDifference? Compare(SensorAtPose sensor, TargetPart part)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        ArgumentNullException.ThrowIfNull(part);
        FrequencyBand band = SensorBands.Burst(sensor);
        FacetSensor facets = SensorBands.FacetSensor(sensor, band);
        double speed = sensor.Prepared.Medium.SoundSpeedMetresPerSecond;
        if (PartSurface.Of(part with { ReflectionLossDecibels = 0 }, speed / band.HighestHertz) is not { } surface)
        {
            return null;
        }

        EchoSpectrum echo = SurfaceIntegral.Evaluate(surface.Surface, facets, band, null, surface.Ground, surface.Options);
        LaneBlock block = sensor.Prepared.Band;
        LaneComplex closed = PartEchoes.Pressure(new EchoView(sensor, Vec3.Zero, block), part, out EchoPath path);
        double range = path.IsSilent ? sensor.MidpointMetres.DistanceTo(part.Middle) : path.Range;

        double worst = 0.0;
        double closedPower = 0.0;
        double facetPower = 0.0;
        double wallPower = 0.0;
        for (int j = 0; j < band.Count; j++)
        {
            double one = path.IsSilent ? 0.0 : Math.Sqrt(closed.Power[j]);
            double other = echo.Pressures[j].Magnitude;
            double wall = 0.5 / range * facets.Medium.AbsorbedAmplitude(band.Hertz(j), 2.0 * range);
            double allowed = Math.Max(ShareOfEcho * Math.Max(one, other), ShareOfWall * wall);
            worst = Math.Max(worst, Math.Abs(one - other) / allowed);
            double weight = block.PowerWeights[j];
            closedPower += weight * one * one;
            facetPower += weight * other * other;
            wallPower += weight * wall * wall;
        }

        double offNormal = OffNormal(sensor, part, path);
        return new EngineDifference(
            part.Name, range, Decibels.FromPowerRatio(closedPower), Decibels.FromPowerRatio(facetPower), worst, offNormal, Limit(sensor, part, offNormal))
        {
            IsBandJudged = Math.Max(closedPower, facetPower) > JudgedAbove * JudgedAbove * ShareOfWall * ShareOfWall * wallPower,
        };
    }

    /// <summary>Compares the engines on all parts that have a surface.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="parts">The parts.</param>
    public static ImmutableArray<EngineDifference> CompareAll(SensorAtPose sensor, ImmutableArray<TargetPart> parts) =>
        [.. parts.Select(part => Compare(sensor, part)).OfType<EngineDifference>()];

    private static double OffNormal(SensorAtPose sensor, TargetPart part, in EchoPath path)
    {
        Vec3? normal = part switch
        {
            PolygonPart plate => plate.Normal,
            DiscPart disc => disc.Normal,
            _ => null,
        };
        if (normal is not { } n || path.IsSilent)
        {
            return 0.0;
        }

        double cosine = Math.Abs((sensor.MidpointMetres - path.Point).Normalized().Dot(n));
        return Angle.FromRadians(Math.Acos(Math.Min(1.0, cosine))).Degrees;
    }

    private static string? Limit(SensorAtPose sensor, TargetPart part, double offNormal)
    {
        double? radius = part switch
        {
            CylinderPart rod => rod.RadiusMetres,
            SpherePart sphere => sphere.RadiusMetres,
            DomePart dome => dome.RadiusMetres,
            PoleFootPart foot => foot.RadiusMetres,
            RopePart rope => rope.RadiusMetres,
            ConePart cone => Math.Min(cone.Radius1Metres, cone.Radius2Metres),
            _ => null,
        };
        if (radius * sensor.Prepared.WavenumberRadiansPerMetre < LeastKa)
        {
            return $"ka is below {LeastKa:0}: creeping waves are not in the surface integral";
        }

        return offNormal > GrazingDegrees ? $"the return leaves at {offNormal:0}° from the normal, beyond {GrazingDegrees:0}°" : null;
    }
}
