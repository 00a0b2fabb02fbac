using System.Collections.Immutable;
using SonarGeom.Coverage;

namespace SonarGeom.Studies;

/// <summary>What kind of change mends an obstacle.</summary>
public enum ChangeKind
{
    /// <summary>The boresight is raised or lowered.</summary>
    Tilt,

    /// <summary>The boresight is turned left or right.</summary>
    Azimuth,

    /// <summary>The threshold is lowered.</summary>
    Threshold,

    /// <summary>The sensor moves to another site.</summary>
    Site,

    /// <summary>Another part takes its place.</summary>
    Part,
}

/// <summary>What a change does to the share of one band that is warned in time for one probe.</summary>
/// <param name="ProbeName">The probe.</param>
/// <param name="Band">The band.</param>
/// <param name="BeforeFraction">Share before. [unitless]</param>
/// <param name="AfterFraction">Share after. [unitless]</param>
public sealed record BandChange(string ProbeName, HeightBand Band, double BeforeFraction, double AfterFraction);

/// <summary>The cheapest single change found that mends an obstacle, with everything it would gain and lose elsewhere.</summary>
/// <param name="Kind">Kind of change.</param>
/// <param name="Sensor">The sensor that is changed.</param>
/// <param name="Description">The change in words: "tilt brow 8° up".</param>
/// <param name="CostUnitless">Cost: 1 for each 5° or 3 dB, 4 for another site, 6 for another part. [unitless]</param>
/// <param name="Gained">Obstacles, besides the mended one, that would then be warned of in time.</param>
/// <param name="Lost">Obstacles that would no longer be warned of in time.</param>
/// <param name="HeadShareBeforeFraction">Share of the head band warned in time for the first probe, before. [unitless]</param>
/// <param name="HeadShareAfterFraction">The same, after. [unitless]</param>
/// <param name="Bands">Every band of every probe whose share warned in time changes by half a per cent or more.</param>
/// <param name="FloorNote">What the floor echo would do after the change; empty when it stays silent.</param>
public sealed record SmallestChange(
    ChangeKind Kind,
    string Sensor,
    string Description,
    double CostUnitless,
    ImmutableArray<string> Gained,
    ImmutableArray<string> Lost,
    double HeadShareBeforeFraction,
    double HeadShareAfterFraction,
    ImmutableArray<BandChange> Bands,
    string FloorNote);
