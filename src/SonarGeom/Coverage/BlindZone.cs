using SonarGeom.Echoes;

namespace SonarGeom.Coverage;

/// <summary>The side of the wearer on which something lies.</summary>
public enum HazardSide
{
    /// <summary>To the wearer's left.</summary>
    Left,

    /// <summary>Straight ahead, or reaching well over both sides.</summary>
    Centre,

    /// <summary>To the wearer's right.</summary>
    Right,
}

/// <summary>A connected part of one height band of the silhouette that is not warned in time for one probe.</summary>
/// <param name="Name">Name, unique within a map: band, side and rank.</param>
/// <param name="ProbeName">Name of the probe.</param>
/// <param name="Band">Height band.</param>
/// <param name="Side">Side of the wearer.</param>
/// <param name="LowZMetres">Lower edge. [m]</param>
/// <param name="HighZMetres">Upper edge. [m]</param>
/// <param name="RightYMetres">Right edge, the smaller Y. [m]</param>
/// <param name="LeftYMetres">Left edge, the larger Y. [m]</param>
/// <param name="AreaSquareMetres">Area. [m²]</param>
/// <param name="InscribedDiameterMetres">Diameter of the largest circle that fits in the zone. [m]</param>
/// <param name="InscribedYMetres">Y of the centre of that circle. [m]</param>
/// <param name="InscribedZMetres">Z of the centre of that circle. [m]</param>
/// <param name="Cause">The cause that limits most cells.</param>
/// <param name="CauseFraction">Share of the cells with that cause. [unitless]</param>
/// <param name="NeverHeardFraction">Share of the cells that are never reliably reported at all; the rest is heard too late. [unitless]</param>
/// <param name="LongestWarningSeconds">Longest warning time of any cell in the zone. [s]</param>
/// <param name="DangerSquareMetres">Rank figure: larger is worse. [m²]</param>
/// <param name="Cells">Cell indices in the map's grid.</param>
public sealed record BlindZone(
    string Name,
    string ProbeName,
    HeightBand Band,
    HazardSide Side,
    double LowZMetres,
    double HighZMetres,
    double RightYMetres,
    double LeftYMetres,
    double AreaSquareMetres,
    double InscribedDiameterMetres,
    double InscribedYMetres,
    double InscribedZMetres,
    LimitingCause Cause,
    double CauseFraction,
    double NeverHeardFraction,
    double LongestWarningSeconds,
    double DangerSquareMetres,
    System.Collections.Immutable.ImmutableArray<int> Cells);
