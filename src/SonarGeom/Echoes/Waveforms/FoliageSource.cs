using System.Collections.Immutable;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes.Waveforms;

/// <summary>
/// Foliage: the course of its mean power while the burst goes through it, lowered as a whole so that its strongest moment stands at the level
/// that nine pings in ten exceed, as in verdicts. Single pings swing about it.
/// </summary>
/// <param name="Label">What it is called.</param>
/// <param name="Part">The leaves.</param>
public sealed record FoliageSource(string Label, FoliagePart Part) : TraceSource(Label)
{
    /// <inheritdoc/>
    internal override SourceWave Wave(SensorAtPose sensor)
    {
        FoliageLevels levels = FoliageEcho.Evaluate(sensor, Part);
        if (levels.IsSilent)
        {
            return SourceWave.Silent;
        }

        double loss = Occluders is null ? 0.0 : Occlusion.EchoLossDecibels(Occluders, sensor, levels.GlintMetres);
        loss += LeafVeil.EchoLossDecibels(Leaves, Geometry.Vec3.Zero, sensor, levels.GlintMetres) + levels.NineInTenDecibels - levels.MeanDecibels;
        ImmutableArray<GroundRing> rings = FoliageEcho.Rings(sensor, Part);
        return new SourceWave
        {
            RangeMetres = levels.StrongestRangeMetres,
            Rings = [.. rings.Select(r => r with { LevelDecibels = Math.Max(r.LevelDecibels + loss, PartEcho.SilentDecibels) })],
        };
    }
}
