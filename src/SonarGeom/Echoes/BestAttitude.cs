using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes;

/// <summary>The target strength that a part would have at a range if it stood square to the sensor and centred.</summary>
internal static class BestAttitude
{
    /// <summary>Returns that target strength, band mean, roughness and material left out. [dB re 1 m]</summary>
    internal static double TargetStrengthDecibels(SensorAtPose sensor, TargetPart part, double range)
    {
        PreparedTransducer even = sensor.Prepared.WithEvenBeams;
        if (part is MeshPart mesh)
        {
            return OfMesh(new SensorAtPose(even, sensor.WorldFromSensor), mesh);
        }

        if (part is FoliagePart leaves)
        {
            // No attitude is better than another: as it stands, the mean over pings.
            var from = new SensorAtPose(even, sensor.WorldFromSensor);
            FoliageLevels levels = FoliageEcho.Evaluate(from, leaves);
            return levels.IsSilent ? PartEcho.SilentDecibels : levels.MeanDecibels + leaves.ReflectionLossDecibels - even.Transducer.SourceLevelDecibels
                - even.Spectrum.BuildUpDecibels + (40 * Math.Log10(levels.StrongestRangeMetres))
                + (2 * even.AbsorptionDecibelsPerMetre * levels.StrongestRangeMetres);
        }

        // Transmitter and receiver together, at the origin, looking ahead: attitude must not hinge on their separation.
        var prepared = new SensorAtPose(even, RigidTransform.Identity);
        TargetPart square = SquareOn(part, range, sensor.MidpointMetres);
        BandEcho echo = PartEchoes.EvaluateBand(prepared, square, Vec3.Zero, out Vec3 glint);
        if (echo.LevelDecibels <= PartEcho.SilentDecibels)
        {
            return PartEcho.SilentDecibels;
        }

        double out1 = prepared.TransmitterMetres.DistanceTo(glint);
        double back = prepared.ReceiverMetres.DistanceTo(glint);
        return echo.LevelDecibels - even.Transducer.SourceLevelDecibels - even.Spectrum.BuildUpDecibels
            + (20 * Math.Log10(out1 * back)) + (even.AbsorptionDecibelsPerMetre * (out1 + back));
    }

    // Turned on the spot about the vertical through its middle, in as many steps as tell one side from the next.
    private static double OfMesh(SensorAtPose sensor, MeshPart mesh)
    {
        const int Turns = 12;
        double best = PartEcho.SilentDecibels;
        for (int i = 0; i < Turns; i++)
        {
            var turn = new RigidTransform(Rotation.AboutZ(Angle.FromDegrees(360.0 * i / Turns)), Vec3.Zero);
            var about = new RigidTransform(Rotation.Identity, mesh.Middle);
            TargetPart turned = mesh.Moved(about * turn * about.Inverse);
            PartEcho echo = PartEchoes.Evaluate(sensor, turned);
            if (!echo.IsSilent)
            {
                double out1 = sensor.TransmitterMetres.DistanceTo(echo.GlintMetres), back = sensor.ReceiverMetres.DistanceTo(echo.GlintMetres);
                best = Math.Max(best, echo.BandLevelDecibels - sensor.Transducer.SourceLevelDecibels - sensor.Prepared.Spectrum.BuildUpDecibels
                    + (20 * Math.Log10(out1 * back)) + (sensor.Prepared.AbsorptionDecibelsPerMetre * (out1 + back)));
            }
        }

        return best;
    }

    private static TargetPart SquareOn(TargetPart part, double range, Vec3 sensor)
    {
        switch (part)
        {
            case SpherePart sphere:
                return new SpherePart("square", new Vec3(range + sphere.RadiusMetres, 0, 0), sphere.RadiusMetres);
            case DomePart dome:
                return new SpherePart("square", new Vec3(range + dome.RadiusMetres, 0, 0), dome.RadiusMetres);
            case CylinderPart rod:
                return Upright(range, rod.End1Metres.DistanceTo(rod.End2Metres), rod.RadiusMetres);
            case ConePart cone:
                return Upright(range, cone.End1Metres.DistanceTo(cone.End2Metres), 0.5 * (cone.Radius1Metres + cone.Radius2Metres));
            case RopePart rope:
                double length = 0;
                for (int i = 1; i < rope.PointsMetres.Length; i++)
                {
                    length += rope.PointsMetres[i].DistanceTo(rope.PointsMetres[i - 1]);
                }

                return Upright(range, length, rope.RadiusMetres);
            case DiscPart disc:
                return new DiscPart("square", new Vec3(range, 0, 0), -Vec3.UnitX, disc.RadiusMetres);
            case PlanePart:
                return new PlanePart("square", new Vec3(range, 0, 0), -Vec3.UnitX);
            case PolygonPart plate:
                return FaceOn(plate, range);
            case CornerPart corner:
                return Corner(corner, range, sensor);
            case PoleFootPart foot:
                double drop = Math.Min(Math.Max((sensor - foot.FootMetres).Dot(foot.Axis), 0.05), 0.999 * range);
                double ahead = Math.Sqrt((range * range) - (drop * drop));
                return new PoleFootPart("square", new Vec3(ahead + foot.RadiusMetres, 0, -drop), Vec3.UnitZ, foot.HeightMetres, foot.RadiusMetres);
            case EdgePart edge:
                double half = 0.5 * edge.End1Metres.DistanceTo(edge.End2Metres);
                double open = 0.5 * edge.ExteriorAngle.Radians;
                var (s, c) = Math.SinCos(open);

                // Seen along the line that halves the open air: the face lies at that angle behind.
                return new EdgePart(
                    "square", new Vec3(range, 0, -half), new Vec3(range, 0, half), new Vec3(-c, -s, 0), new Vec3(-s, c, 0), edge.ExteriorAngle);
            default:
                return part is RimPart rim
                    ? new RimPart("square", new Vec3(range + rim.RadiusMetres, 0, -1e-3), Vec3.UnitZ, rim.RadiusMetres)
                    : part;
        }
    }

    private static CylinderPart Upright(double range, double length, double radius) =>
        new("square", new Vec3(range + radius, 0, -0.5 * length), new Vec3(range + radius, 0, 0.5 * length), radius);

    private static PolygonPart FaceOn(PolygonPart plate, double range)
    {
        Vec3 x = (plate.CornersMetres[1] - plate.CornersMetres[0]).Normalized();
        var plateFromWorld = new Rotation(x, plate.Normal.Cross(x), plate.Normal).Inverse;
        var faced = new Rotation(-Vec3.UnitY, Vec3.UnitZ, -Vec3.UnitX);
        Rotation turn = faced * plateFromWorld;
        Vec3 middle = plate.Middle;
        return new PolygonPart("square", [.. plate.CornersMetres.Select(c => new Vec3(range, 0, 0) + turn.Apply(c - middle))]);
    }

    private static CornerPart Corner(CornerPart corner, double range, Vec3 sensor)
    {
        double half = 0.5 * corner.End1Metres.DistanceTo(corner.End2Metres);
        double drop = Math.Min(Math.Max((sensor - corner.End1Metres).Dot(corner.FloorNormal), 0.05), 0.999 * range);
        double ahead = Math.Sqrt((range * range) - (drop * drop));
        return new CornerPart(
            "square", new Vec3(ahead, -half, -drop), new Vec3(ahead, half, -drop), -Vec3.UnitX, Vec3.UnitZ,
            corner.FaceHeightMetres, corner.FloorDepthMetres);
    }
}
