using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <summary>The echo of foliage: its mean power, and how far single pings fall below that.</summary>
/// <param name="MeanDecibels">Mean power over pings at its strongest moment, burst build-up included; −300 when nothing returns. [dB re 20 µPa]</param>
/// <param name="NineInTenDecibels">The level that nine pings in ten exceed at one of the moments round that one. [dB re 20 µPa]</param>
/// <param name="RangeMetres">Half the path of the last of those moments: no ping is counted that is heard later. [m]</param>
/// <param name="StrongestRangeMetres">Half the path of the strongest moment. [m]</param>
/// <param name="GlintMetres">The middle of what answers then. [m]</param>
/// <param name="EffectiveLeavesUnitless">How many leaves that all count alike would swing as much as those that answer then. [unitless]</param>
public readonly record struct FoliageLevels(
    double MeanDecibels, double NineInTenDecibels, double RangeMetres, double StrongestRangeMetres, Vec3 GlintMetres, double EffectiveLeavesUnitless)
{
    /// <summary>Gets whether nothing returns.</summary>
    public bool IsSilent => MeanDecibels <= PartEcho.SilentDecibels;
}
