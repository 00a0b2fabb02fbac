using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

public sealed partial record Obstacle
{
    /// <summary>Thickness given to sheets and walls whose depth is not stated. [m]</summary>
    private const double SheetMetres = 0.01;

    private const int Sides = 32;
    private const int DomeRings = 8;

    /// <summary>Returns the solids that block sound and sight; of foliage its envelope, which the body meets and sound goes through.</summary>
    public ImmutableArray<SolidPrimitive> Solids()
    {
        Validated();
        double radius = 0.5 * DiameterMetres;
        double thickness = DepthMetres > 0 ? DepthMetres : SheetMetres;
        switch (Kind)
        {
            case ObstacleKind.Pole:
                return [new SolidCylinder(At(0, 0, 0), At(0, 0, HeightMetres), radius)];
            case ObstacleKind.Bar:
                return [new SolidCylinder(At(0, -0.5 * WidthMetres, 0), At(0, 0.5 * WidthMetres, 0), radius)];
            case ObstacleKind.Sphere:
                return [new SolidSphere(PositionMetres, radius)];
            case ObstacleKind.Board or ObstacleKind.Sign:
                return [BoxAt(new Vec3(0.5 * thickness, 0, 0), thickness, WidthMetres, HeightMetres), .. Lip(0, -0.5 * HeightMetres)];
            case ObstacleKind.Wall or ObstacleKind.WallFloorCorner:
                return [BoxAt(new Vec3(0.5 * thickness, 0, 0.5 * HeightMetres), thickness, WidthMetres, HeightMetres)];
            case ObstacleKind.Box:
                return [BoxAt(new Vec3(0, 0, 0.5 * HeightMetres), DepthMetres, WidthMetres, HeightMetres)];
            case ObstacleKind.KerbUp:
                double upper = DepthMetres > 0 ? DepthMetres : 1;
                return [BoxAt(new Vec3(0.5 * upper, 0, 0.5 * HeightMetres), upper, WidthMetres, HeightMetres)];
            case ObstacleKind.StepDown:
                double lower = DepthMetres > 0 ? DepthMetres : 1;
                return [BoxAt(new Vec3(-0.5 * lower, 0, -0.5 * HeightMetres), lower, WidthMetres, HeightMetres)];
            case ObstacleKind.Stairs:
                return [.. Enumerable.Range(0, StepCount).Select(i => (SolidPrimitive)BoxAt(
                    new Vec3((i + 0.5) * DepthMetres, 0, 0.5 * (i + 1) * HeightMetres), DepthMetres, WidthMetres, (i + 1) * HeightMetres))];
            case ObstacleKind.Awning or ObstacleKind.TailGate:
                return [BoxAt(new Vec3(0.5 * DepthMetres, 0, 0.5 * SheetMetres), DepthMetres, WidthMetres, SheetMetres), .. Lip(0, 0)];
            case ObstacleKind.StairUnderside:
                return [BoxAt(new Vec3(0, 0, 0.5 * SheetMetres), DepthMetres, WidthMetres, SheetMetres), .. Lip(-0.5 * DepthMetres, 0), .. Lip(0.5 * DepthMetres, 0)];
            case ObstacleKind.Bollard when Cap == CapShape.Flat:
                return [new SolidCylinder(At(0, 0, 0), At(0, 0, HeightMetres), radius)];
            case ObstacleKind.Bollard:
                return [new SolidMesh(BollardMesh())];
            case ObstacleKind.Mesh:
                return [new SolidMesh(Shape!.Whole.Transformed(WorldFromObstacle))];
            case ObstacleKind.Foliage:
                return [FoliageEnvelope()];
            default:
                ImmutableArray<Vec3> points = ChainPoints();
                return [.. Enumerable.Range(1, points.Length - 1).Select(i => (SolidPrimitive)new SolidCylinder(points[i - 1], points[i], radius))];
        }
    }

    /// <summary>Returns a closed mesh for drawing and for ray tests. Round things have 32 sides. [m]</summary>
    public TriangleMesh Mesh()
    {
        var mesh = new SolidMeshBuilder();
        foreach (SolidPrimitive solid in Solids())
        {
            mesh.Add(solid, Sides);
        }

        return mesh.Build();
    }

    /// <summary>Returns the box along the world axes that holds its solids. [m]</summary>
    public BoundingBox Bounds()
    {
        if (Kind == ObstacleKind.Sphere)
        {
            Vec3 r = 0.5 * DiameterMetres * new Vec3(1, 1, 1);
            return new BoundingBox(PositionMetres - r, PositionMetres + r);
        }

        return BoundingBox.Of(Mesh().Vertices);
    }

    // The round lip that answers for an edge is there to be touched too.
    private ImmutableArray<SolidPrimitive> Lip(double x, double z) => DiameterMetres > 0
        ? [new SolidCylinder(At(x, -0.5 * WidthMetres, z), At(x, 0.5 * WidthMetres, z), 0.5 * DiameterMetres)]
        : [];

    private SolidBox BoxAt(Vec3 middle, double depth, double width, double height) =>
        new(WorldFromObstacle * new RigidTransform(Rotation.Identity, middle), 0.5 * new Vec3(depth, width, height));

    private TriangleMesh BollardMesh()
    {
        double radius = 0.5 * DiameterMetres;
        double shoulder = HeightMetres - CapSizeMetres;
        var profile = new List<(double Radius, double Z)> { (radius, 0), (radius, shoulder) };
        if (Cap == CapShape.Chamfered)
        {
            profile.Add((radius - CapSizeMetres, HeightMetres));
        }
        else
        {
            double sphere = ((radius * radius) + (CapSizeMetres * CapSizeMetres)) / (2 * CapSizeMetres);
            double half = Math.Asin(Math.Min(1, radius / sphere));
            for (int i = 1; i <= DomeRings; i++)
            {
                double angle = half * (DomeRings - i) / DomeRings;
                profile.Add((sphere * Math.Sin(angle), HeightMetres - sphere + (sphere * Math.Cos(angle))));
            }
        }

        var mesh = new SolidMeshBuilder();
        mesh.AddRevolved(WorldFromObstacle, profile, Sides);
        return mesh.Build();
    }
}
