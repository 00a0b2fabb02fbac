using System.Collections.Immutable;
using SonarGeom.Coverage;

namespace SonarGeom.Studies;

/// <summary>Shares warned in time when the hazard closes in from another direction than straight ahead.</summary>
/// <param name="AzimuthDegrees">Direction from which it comes, positive left. [°]</param>
/// <param name="Shares">Shares by band, head first.</param>
public sealed record AzimuthShare(double AzimuthDegrees, ImmutableArray<BandShare> Shares);

/// <summary>In which directions a hazard at a stated distance and height is reported to a wearer turning on the spot.</summary>
/// <param name="Band">Height band of the hazard's middle.</param>
/// <param name="HeightMetres">Its height. [m]</param>
/// <param name="DistanceMetres">Its distance from the body's upright axis. [m]</param>
/// <param name="HeardFraction">Share of the directions from −90° to 90° in which it is reported. [unitless]</param>
/// <param name="SectorsDegrees">The reported sectors, from right to left, as pairs of direction to the hazard. [°]</param>
public sealed record TurningSector(
    HeightBand Band, double HeightMetres, double DistanceMetres, double HeardFraction, ImmutableArray<(double FromDegrees, double ToDegrees)> SectorsDegrees);

/// <summary>What is left when one sensor fails or is covered.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="IsCovered">True when covered by cloth or hair, false when dead.</param>
/// <param name="LossDecibels">Two-way loss assumed for the cover; infinite when dead. [dB]</param>
/// <param name="NoLongerWarned">Obstacles no longer warned of in time.</param>
/// <param name="StillWarnedCount">Obstacles on course that are still warned of in time.</param>
public sealed record SensorOutage(string Sensor, bool IsCovered, double LossDecibels, ImmutableArray<string> NoLongerWarned, int StillWarnedCount);

/// <summary>What one sensor hears of the bare floor and of the wearer's own limbs.</summary>
/// <param name="Sensor">The sensor.</param>
/// <param name="FloorMarginDecibels">Largest margin of the floor echo over the stride. [dB]</param>
/// <param name="FloorRangeMetres">Shortest range at which the floor is reported; infinite if silent. [m]</param>
/// <param name="FloorPhasesFraction">Share of stride phases in which the floor is reported. [unitless]</param>
/// <param name="LimbRangeMetres">Shortest range at which an own limb or the cane is reported; infinite if silent. [m]</param>
/// <param name="LimbName">The limb, or empty.</param>
public sealed record SelfEcho(
    string Sensor, double FloorMarginDecibels, double FloorRangeMetres, double FloorPhasesFraction, double LimbRangeMetres, string LimbName);

/// <summary>How the layout does on one wearer.</summary>
/// <param name="Wearer">Name of the wearer.</param>
/// <param name="StatureMetres">Stature without footwear. [m]</param>
/// <param name="TopMetres">Height of the crown with footwear, in posture. [m]</param>
/// <param name="ProbeName">The probe.</param>
/// <param name="Shares">Shares by band, head first.</param>
public sealed record WearerShare(string Wearer, double StatureMetres, double TopMetres, string ProbeName, ImmutableArray<BandShare> Shares);

/// <summary>Whether a stated requirement holds.</summary>
/// <param name="Requirement">The requirement.</param>
/// <param name="ReachedFraction">The share reached. [unitless]</param>
/// <param name="IsMet">Whether it holds.</param>
/// <param name="Sentence">The answer in words.</param>
public sealed record RequirementResult(Requirement Requirement, double ReachedFraction, bool IsMet, string Sentence);
