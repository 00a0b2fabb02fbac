using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Coverage;

/// <summary>The echoing parts of a probe centred on the origin, with its extents.</summary>
/// <param name="Probe">The probe.</param>
/// <param name="Parts">Its parts, around the origin.</param>
/// <param name="HalfDepthMetres">Half its extent along X. [m]</param>
/// <param name="HalfWidthMetres">Half its extent along Y. [m]</param>
/// <param name="HalfHeightMetres">Half its extent along Z. [m]</param>
public sealed record ProbeTarget(
    Probe Probe, ImmutableArray<TargetPart> Parts, double HalfDepthMetres, double HalfWidthMetres, double HalfHeightMetres)
{
    private const double SmallMetres = 0.5;

    /// <summary>Gets whether it hides or shows as a whole, so that its middle stands for the point that answers.</summary>
    public bool IsSmall => Math.Max(HalfDepthMetres, Math.Max(HalfWidthMetres, HalfHeightMetres)) <= SmallMetres;

    /// <summary>Returns an upright pole on the ground, its foot at the origin.</summary>
    /// <param name="name">Its name.</param>
    /// <param name="diameterMetres">Diameter. [m]</param>
    /// <param name="heightMetres">Height, above that of any wearer. [m]</param>
    /// <param name="ground">The ground, with which its foot makes a corner when both are smooth, or null for none.</param>
    public static ProbeTarget Pole(string name, double diameterMetres, double heightMetres, Ground? ground)
    {
        var probe = new Probe(
            name, $"upright pole, {diameterMetres * 1000:0} mm thick, from the ground to above the head", ProbeShape.Rod, diameterMetres,
            heightMetres, 0, Angle.Zero, Angle.Zero);
        return new(
            probe, [.. Obstacle.Pole(name, Vec3.Zero, diameterMetres, heightMetres).Parts(ground).Where(p => p.CountsAsDetection)],
            diameterMetres / 2, diameterMetres / 2, heightMetres);
    }

    /// <summary>Returns the parts and extents of a probe.</summary>
    /// <param name="probe">The probe.</param>
    public static ProbeTarget Of(Probe probe)
    {
        ArgumentNullException.ThrowIfNull(probe);
        Rotation attitude = Rotation.FromAzimuthTiltRoll(probe.Yaw, probe.Pitch, Angle.Zero);
        double r = probe.DiameterMetres / 2;
        switch (probe.Shape)
        {
            case ProbeShape.Sphere:
                return new(probe, [new SpherePart(probe.Name, Vec3.Zero, r, probe.ReflectionLossDecibels)], r, r, r);
            case ProbeShape.Board:
                Vec3 across = attitude.Apply(new Vec3(0, probe.LengthMetres / 2, 0));
                Vec3 up = attitude.Apply(new Vec3(0, 0, probe.HeightMetres / 2));
                return new(
                    probe, [Board(probe, across, up)],
                    Math.Abs(across.X) + Math.Abs(up.X), Math.Abs(across.Y) + Math.Abs(up.Y), Math.Abs(across.Z) + Math.Abs(up.Z));
            default:
                Vec3 axis = attitude.Apply(probe.Shape == ProbeShape.Rod ? Vec3.UnitZ : Vec3.UnitY);
                Vec3 half = (probe.LengthMetres / 2) * axis;
                return new(
                    probe, [new CylinderPart(probe.Name, -half, half, r, probe.ReflectionLossDecibels)],
                    Extent(half.X, axis.X, r), Extent(half.Y, axis.Y, r), Extent(half.Z, axis.Z, r));
        }
    }

    // The front face looks back at the wearer, along −X before its attitude is applied.
    private static PolygonPart Board(Probe probe, Vec3 across, Vec3 up) =>
        PolygonPart.Rectangle(probe.Name, Vec3.Zero, -across, up, isTwoSided: true, probe.ReflectionLossDecibels);

    private static double Extent(double half, double axis, double radius) =>
        Math.Abs(half) + (radius * Math.Sqrt(Math.Max(0, 1 - (axis * axis))));
}
