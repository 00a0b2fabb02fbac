using SonarGeom.Coverage;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>The tables of a sensor turned degree by degree.</summary>
internal static class AimTables
{
    /// <summary>Gets the shares of every probe at every tilt.</summary>
    internal static ResultTable<AimPoint> Points { get; } = new(
        new("tilt_deg", "tilt [°]", p => Cell.Of(p.TiltDegrees, 2)),
        new("probe", "probe", p => Cell.Of(p.ProbeName)),
        new("head_share_percent", "head [%]", p => Share(p, HeightBand.Head)),
        new("chest_share_percent", "chest [%]", p => Share(p, HeightBand.Chest)),
        new("waist_share_percent", "waist [%]", p => Share(p, HeightBand.Waist)),
        new("knee_share_percent", "knee [%]", p => Share(p, HeightBand.Knee)),
        new("foot_share_percent", "foot [%]", p => Share(p, HeightBand.Foot)),
        new("floor_margin_db", "floor margin [dB]", p => double.IsFinite(p.FloorMarginDecibels) && p.FloorMarginDecibels > -300 ? Cell.Of(p.FloorMarginDecibels, 1) : Cell.Of(double.NaN, 1)));

    private static Cell Share(AimPoint point, HeightBand band) => Cell.Of(100 * point.Shares.Single(s => s.Band == band).WarnedFraction, 1);
}
