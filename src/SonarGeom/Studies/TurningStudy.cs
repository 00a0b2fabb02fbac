using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Studies;

/// <summary>What a wearer who turns on the spot hears of a hazard that stands close by.</summary>
public static class TurningStudy
{
    private const int StepDegrees = 3;
    private static readonly double[] DistancesMetres = [0.3, 0.5, 0.7, 1.0];

    /// <summary>Returns, for each height band and distance, the directions in which the hazard is reported.</summary>
    /// <param name="layout">The layout on its wearer.</param>
    /// <param name="probe">The hazard; it faces the wearer in every direction.</param>
    /// <param name="walk">The share of phases that counts as reliable.</param>
    public static ImmutableArray<TurningSector> Of(PosedLayout layout, Probe probe, WalkSettings walk)
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(walk);
        ProbeTarget target = ProbeTarget.Of(probe);
        var sectors = ImmutableArray.CreateBuilder<TurningSector>();
        for (HeightBand band = HeightBand.Head; band >= HeightBand.Foot; band--)
        {
            double height = layout.BandMiddleMetres(band);
            foreach (double distance in DistancesMetres)
            {
                sectors.Add(Of(layout, target, walk, band, height, distance));
            }
        }

        return sectors.ToImmutable();
    }

    private static TurningSector Of(PosedLayout layout, ProbeTarget target, WalkSettings walk, HeightBand band, double height, double distance)
    {
        var heard = new List<(double From, double To)>();
        int count = 0, all = 0;
        for (int degrees = -90; degrees <= 90; degrees += StepDegrees)
        {
            Rotation facing = Rotation.AboutZ(Angle.FromDegrees(degrees));
            Vec3 position = facing.Apply(new Vec3(distance, 0, 0)) + new Vec3(0, 0, height);
            TargetPart[] parts = [.. target.Parts.Select(p => p.Moved(new RigidTransform(facing, Vec3.Zero)))];
            all++;
            if (!IsReported(layout, parts, position, walk))
            {
                continue;
            }

            count++;
            if (heard.Count > 0 && heard[^1].To == degrees - StepDegrees)
            {
                heard[^1] = (heard[^1].From, degrees);
            }
            else
            {
                heard.Add((degrees, degrees));
            }
        }

        return new TurningSector(band, height, distance, (double)count / all, [.. heard]);
    }

    private static bool IsReported(PosedLayout layout, TargetPart[] parts, Vec3 position, WalkSettings walk)
    {
        int reported = 0;
        for (int phase = 0; phase < layout.PhaseCount; phase++)
        {
            for (int s = 0; s < layout.SensorCount; s++)
            {
                if (layout.MarginDecibels(s, phase, parts, position, null, out _) >= 0)
                {
                    reported++;
                    break;
                }
            }
        }

        return reported >= walk.ReliableShare * layout.PhaseCount;
    }
}
