using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

public sealed partial record Obstacle
{
    private const int ChainPieces = 32;

    /// <summary>Lean beyond which a pole foot is no longer taken as a square corner: half a degree moves the returned beam by 1°.</summary>
    private const double LargestLeanRadians = 0.5 * Math.PI / 180;

    /// <summary>Gap to the ground beyond which there is no corner with it: the beam needs both surfaces to meet, and half a wavelength at 40 kHz is 4 mm.</summary>
    private const double LargestGapMetres = 0.004;

    /// <summary>Returns the surfaces and lines that can answer by themselves.</summary>
    /// <param name="ground">
    /// The ground it stands on, whose smoothness makes corners with it; null when there is none, and then no corner is made.
    /// </param>
    /// <exception cref="ArgumentException">A size its kind needs is missing or out of range.</exception>
    public ImmutableArray<TargetPart> Parts(Ground? ground)
    {
        Validated();
        var parts = ImmutableArray.CreateBuilder<TargetPart>();
        switch (Kind)
        {
            case ObstacleKind.Pole:
                AddUpright(parts, ground, 0, HeightMetres);
                AddFlatTop(parts, HeightMetres, 0.5 * DiameterMetres);
                break;
            case ObstacleKind.Bar:
                AddBar(parts);
                break;
            case ObstacleKind.Sphere:
                parts.Add(new SpherePart("sphere", PositionMetres, 0.5 * DiameterMetres, ReflectionLossDecibels));
                break;
            case ObstacleKind.Board or ObstacleKind.Sign:
                AddSheet(parts, At(0, 0, 0), Along(0, -0.5 * WidthMetres, 0), Along(0, 0, 0.5 * HeightMetres), "face");
                AddLip(parts, At(0, 0, -0.5 * HeightMetres), "lower edge");
                break;
            case ObstacleKind.Wall or ObstacleKind.WallFloorCorner:
                AddFace(parts, At(0, 0, 0.5 * HeightMetres), Along(0, -0.5 * WidthMetres, 0), Along(0, 0, 0.5 * HeightMetres), "face");
                AddCorner(parts, ground, 0, 0, HeightMetres, double.PositiveInfinity, "corner with the floor");
                break;
            case ObstacleKind.Box:
                AddBox(parts, ground);
                break;
            case ObstacleKind.KerbUp:
                AddFace(parts, At(0, 0, 0.5 * HeightMetres), Along(0, -0.5 * WidthMetres, 0), Along(0, 0, 0.5 * HeightMetres), "face");
                AddCorner(parts, ground, 0, 0, HeightMetres, double.PositiveInfinity, "corner with the road");
                AddNosing(parts, 0, HeightMetres, "upper edge", countsAsDetection: true);
                break;
            case ObstacleKind.StepDown:
                AddDropLip(parts);
                break;
            case ObstacleKind.Stairs:
                AddStairs(parts, ground);
                break;
            case ObstacleKind.Awning or ObstacleKind.TailGate:
                AddSheet(parts, At(0.5 * DepthMetres, 0, 0), Along(0, 0.5 * WidthMetres, 0), Along(0.5 * DepthMetres, 0, 0), "sheet");
                AddLip(parts, At(0, 0, 0), "front lip");
                break;
            case ObstacleKind.StairUnderside:
                AddSheet(parts, At(0, 0, 0), Along(0, 0.5 * WidthMetres, 0), Along(0.5 * DepthMetres, 0, 0), "underside", isTwoSided: false);
                AddLip(parts, At(-0.5 * DepthMetres, 0, 0), "near edge");
                AddLip(parts, At(0.5 * DepthMetres, 0, 0), "far edge");
                break;
            case ObstacleKind.Bollard:
                AddBollard(parts, ground);
                break;
            case ObstacleKind.Mesh:
                bool stands = Math.Abs(Bounds().LowMetres.Z) < LargestGapMetres;
                parts.Add(new MeshPart(Shape!.Name, Shape, WorldFromObstacle) { FloorRoughnessRmsMetres = stands ? ground?.RoughnessRmsMetres : null });
                break;
            case ObstacleKind.Foliage:
                return [LeavesPart()];
            case ObstacleKind.Chain:
                parts.Add(new RopePart("chain", ChainPoints(), 0.5 * DiameterMetres, ReflectionLossDecibels));
                break;
        }

        double roughness = EffectiveRoughnessRmsMetres;
        return [.. parts.Select(p => p with { RoughnessRmsMetres = roughness })];
    }

    private Vec3 At(double x, double y, double z) => WorldFromObstacle.ApplyToPoint(new Vec3(x, y, z));

    private Vec3 Along(double x, double y, double z) => WorldFromObstacle.ApplyToDirection(new Vec3(x, y, z));

    private bool StandsUpright => Math.Abs(Along(0, 0, 1).Z) > Math.Cos(LargestLeanRadians);

    /// <summary>What hangs, such as a cabinet on a wall, makes no corner with the ground below it.</summary>
    private bool StandsOnGround => StandsUpright && Math.Abs(PositionMetres.Z) < LargestGapMetres;

    private void AddUpright(ImmutableArray<TargetPart>.Builder parts, Ground? ground, double bottom, double top)
    {
        double radius = 0.5 * DiameterMetres;
        parts.Add(new CylinderPart("side", At(0, 0, bottom), At(0, 0, top), radius, ReflectionLossDecibels));
        if (ground is not null && StandsOnGround)
        {
            parts.Add(new PoleFootPart("corner with the ground", At(0, 0, bottom), Along(0, 0, 1), top - bottom, radius, ReflectionLossDecibels)
            {
                FloorRoughnessRmsMetres = ground.RoughnessRmsMetres,
            });
        }
    }

    private void AddFlatTop(ImmutableArray<TargetPart>.Builder parts, double height, double radius)
    {
        parts.Add(new DiscPart("flat top", At(0, 0, height), Along(0, 0, 1), radius, false, ReflectionLossDecibels));
        parts.Add(new RimPart("rim of the top", At(0, 0, height), Along(0, 0, 1), radius, ReflectionLossDecibels));
    }

    private void AddBar(ImmutableArray<TargetPart>.Builder parts)
    {
        double half = 0.5 * WidthMetres;
        double radius = 0.5 * DiameterMetres;
        parts.Add(new CylinderPart("side", At(0, -half, 0), At(0, half, 0), radius, ReflectionLossDecibels));
        parts.Add(new DiscPart("left end", At(0, half, 0), Along(0, 1, 0), radius, false, ReflectionLossDecibels));
        parts.Add(new DiscPart("right end", At(0, -half, 0), Along(0, -1, 0), radius, false, ReflectionLossDecibels));
    }

    private void AddSheet(
        ImmutableArray<TargetPart>.Builder parts, Vec3 middle, Vec3 halfAcross, Vec3 halfUp, string name, bool isTwoSided = true) =>
        parts.Add(PolygonPart.Rectangle(name, middle, halfAcross, halfUp, isTwoSided, ReflectionLossDecibels));

    private void AddFace(ImmutableArray<TargetPart>.Builder parts, Vec3 middle, Vec3 halfAcross, Vec3 halfUp, string name) =>
        AddSheet(parts, middle, halfAcross, halfUp, name, isTwoSided: false);

    private void AddLip(ImmutableArray<TargetPart>.Builder parts, Vec3 middle, string name)
    {
        // A sharp edge of a thin sheet is already in the contour of its face; a round lip answers as a rod.
        if (DiameterMetres > 0)
        {
            Vec3 half = Along(0, 0.5 * WidthMetres, 0);
            parts.Add(new CylinderPart(name, middle - half, middle + half, 0.5 * DiameterMetres, ReflectionLossDecibels));
        }
    }

    private void AddCorner(
        ImmutableArray<TargetPart>.Builder parts, Ground? ground, double x, double z, double height, double floorDepth, string name, double? floorRoughness = null)
    {
        double? roughness = floorRoughness ?? (StandsOnGround ? ground?.RoughnessRmsMetres : null);
        if (roughness is double rms && StandsUpright)
        {
            double half = 0.5 * WidthMetres;
            parts.Add(new CornerPart(
                name, At(x, -half, z), At(x, half, z), Along(-1, 0, 0), Along(0, 0, 1), height, floorDepth, ReflectionLossDecibels)
            { FloorRoughnessRmsMetres = rms });
        }
    }

    private void AddNosing(ImmutableArray<TargetPart>.Builder parts, double x, double z, string name, bool countsAsDetection)
    {
        double half = 0.5 * WidthMetres;
        parts.Add(new EdgePart(name, At(x, -half, z), At(x, half, z), Along(0, 0, -1), Along(-1, 0, 0), EdgePart.Square, ReflectionLossDecibels)
        { CountsAsDetection = countsAsDetection });
    }

    private void AddDropLip(ImmutableArray<TargetPart>.Builder parts)
    {
        double half = 0.5 * WidthMetres;
        parts.Add(new EdgePart("lip", At(0, -half, 0), At(0, half, 0), Along(-1, 0, 0), Along(0, 0, 1), EdgePart.Square, ReflectionLossDecibels)
        { CountsAsDetection = false });
    }

    private void AddStairs(ImmutableArray<TargetPart>.Builder parts, Ground? ground)
    {
        for (int i = 0; i < StepCount; i++)
        {
            double x = i * DepthMetres;
            double z = i * HeightMetres;
            AddFace(parts, At(x, 0, z + (0.5 * HeightMetres)), Along(0, -0.5 * WidthMetres, 0), Along(0, 0, 0.5 * HeightMetres), $"riser {i + 1}");
            bool isFirst = i == 0;
            AddCorner(
                parts, ground, x, z, HeightMetres, isFirst ? double.PositiveInfinity : DepthMetres, $"corner below riser {i + 1}",
                isFirst ? null : EffectiveRoughnessRmsMetres);
            AddNosing(parts, x, z + HeightMetres, $"nosing {i + 1}", countsAsDetection: true);
        }
    }

    private void AddBox(ImmutableArray<TargetPart>.Builder parts, Ground? ground)
    {
        Vec3 x = Along(0.5 * DepthMetres, 0, 0);
        Vec3 y = Along(0, 0.5 * WidthMetres, 0);
        Vec3 z = Along(0, 0, 0.5 * HeightMetres);
        Vec3 c = At(0, 0, 0.5 * HeightMetres);
        (string Name, Vec3 Out, Vec3 Across)[] sides = [("front", -x, -y), ("back", x, y), ("left side", y, -x), ("right side", -y, x)];
        foreach ((string name, Vec3 outward, Vec3 across) in sides)
        {
            AddFace(parts, c + outward, across, z, name);
            Vec3 normal = outward.Normalized();
            if (ground is not null && StandsOnGround)
            {
                Vec3 foot = c + outward - z;
                parts.Add(new CornerPart(
                    $"corner of the {name} with the ground", foot - across, foot + across, normal, z.Normalized(), HeightMetres,
                    double.PositiveInfinity, ReflectionLossDecibels)
                { FloorRoughnessRmsMetres = ground.RoughnessRmsMetres });
            }

            // Edges: the upper one of each side, and the upright one at its end.
            parts.Add(new EdgePart($"upper edge of the {name}", c + outward + z - across, c + outward + z + across, -z, normal, EdgePart.Square, ReflectionLossDecibels));
            parts.Add(new EdgePart($"upright edge of the {name}", c + outward + across - z, c + outward + across + z, -across, normal, EdgePart.Square, ReflectionLossDecibels));
        }

        AddFace(parts, c + z, x, y, "top");
    }

    private void AddBollard(ImmutableArray<TargetPart>.Builder parts, Ground? ground)
    {
        double radius = 0.5 * DiameterMetres;
        double shoulder = Cap == CapShape.Flat ? HeightMetres : HeightMetres - CapSizeMetres;
        if (shoulder > 1e-6)
        {
            AddUpright(parts, ground, 0, shoulder);
        }

        switch (Cap)
        {
            case CapShape.Flat:
                AddFlatTop(parts, HeightMetres, radius);
                break;
            case CapShape.Chamfered:
                double top = radius - CapSizeMetres;
                parts.Add(new ConePart("chamfer", At(0, 0, shoulder), radius, At(0, 0, HeightMetres), top, ReflectionLossDecibels));
                parts.Add(new DiscPart("flat top", At(0, 0, HeightMetres), Along(0, 0, 1), top, false, ReflectionLossDecibels));
                break;
            case CapShape.Domed:
                // Sphere through the shoulder and the crown: R = (r² + s²) / 2s.
                double sphere = ((radius * radius) + (CapSizeMetres * CapSizeMetres)) / (2 * CapSizeMetres);
                double halfAngle = Math.Asin(Math.Min(1, radius / sphere));
                parts.Add(new DomePart(
                    "dome", At(0, 0, HeightMetres - sphere), sphere, Along(0, 0, 1), Quantities.Angle.FromRadians(halfAngle), ReflectionLossDecibels));
                break;
        }
    }

    private ImmutableArray<Vec3> ChainPoints()
    {
        var points = ImmutableArray.CreateBuilder<Vec3>(ChainPieces + 1);
        for (int i = 0; i <= ChainPieces; i++)
        {
            double s = ((2.0 * i) - ChainPieces) / ChainPieces;
            points.Add(At(0, 0.5 * WidthMetres * s, -SagMetres * (1 - (s * s))));
        }

        return points.MoveToImmutable();
    }
}
