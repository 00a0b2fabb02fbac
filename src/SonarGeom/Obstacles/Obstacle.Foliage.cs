using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <content>Foliage: bushes, hedges, crowns and leafy branches.</content>
public sealed partial record Obstacle
{
    private const double SmallestLeafMetres = 0.005;
    private const double LargestLeafMetres = 0.15;
    private const double FewestLeaves = 10;
    private const double MostLeaves = 1e6;
    private const int LeafCorners = 6;

    /// <summary>Gets the shape that the leaves of foliage fill.</summary>
    public FoliageForm FoliageForm { get; init; }

    /// <summary>Gets the radius of a leaf of foliage, seen as a round disc: for other shapes that of a disc of the same area. [m]</summary>
    public double LeafRadiusMetres { get; init; }

    /// <summary>Gets the number of leaves per volume of foliage. [1/m³]</summary>
    public double LeavesPerCubicMetre { get; init; }

    /// <summary>Foliage on its lower end, or hanging there.</summary>
    /// <param name="id">Its name.</param>
    /// <param name="lowestMetres">Middle of its lower end: of its foot, or of its underside where it hangs. [m]</param>
    /// <param name="form">The shape that the leaves fill.</param>
    /// <param name="depthMetres">Size from front to back. [m]</param>
    /// <param name="widthMetres">Width. [m]</param>
    /// <param name="heightMetres">Height. [m]</param>
    /// <param name="leafRadiusMetres">Radius of a leaf, 5 to 150 mm: a smaller one is no mirror at 40 kHz. [m]</param>
    /// <param name="leavesPerCubicMetre">Number of leaves per volume. [1/m³]</param>
    public static Obstacle Foliage(
        string id, Vec3 lowestMetres, FoliageForm form, double depthMetres, double widthMetres, double heightMetres, double leafRadiusMetres,
        double leavesPerCubicMetre) =>
        new Obstacle(id, ObstacleKind.Foliage, lowestMetres)
        {
            FoliageForm = form,
            DepthMetres = depthMetres,
            WidthMetres = widthMetres,
            HeightMetres = heightMetres,
            LeafRadiusMetres = leafRadiusMetres,
            LeavesPerCubicMetre = leavesPerCubicMetre,
        }.Validated();

    /// <summary>Returns the leaves as one part.</summary>
    internal FoliagePart LeavesPart() => new(
        "foliage", WorldFromObstacle * new RigidTransform(Rotation.Identity, new Vec3(0, 0, 0.5 * HeightMetres)), FoliageForm,
        0.5 * new Vec3(DepthMetres, WidthMetres, HeightMetres), LeafRadiusMetres, LeavesPerCubicMetre, ReflectionLossDecibels);

    /// <summary>
    /// Returns some of the leaves of foliage for drawings, each a hexagon of the size of a leaf, at evenly spread places and attitudes; the same
    /// on every call. [m]
    /// </summary>
    /// <param name="most">The most leaves drawn, at least 1.</param>
    /// <exception cref="InvalidOperationException">It is no foliage.</exception>
    public TriangleMesh DrawnLeaves(int most = 600)
    {
        if (Kind != ObstacleKind.Foliage)
        {
            throw new InvalidOperationException($"Obstacle '{Id}' ({Kind}) has no leaves.");
        }

        FoliagePart part = LeavesPart();
        int wanted = (int)Math.Min(most, Math.Ceiling(part.VolumeCubicMetres * LeavesPerCubicMetre));
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var facets = ImmutableArray.CreateBuilder<Facet>();
        Vec3 h = part.HalfAxesMetres;
        for (int i = 1, drawn = 0; drawn < wanted; i++)
        {
            // Additive sequences of irrational steps fill place and attitude evenly.
            Vec3 at = new(Spread(i, 0.8191725133961645), Spread(i, 0.6710436067037893), Spread(i, 0.5497004779019703));
            if (FoliageForm == FoliageForm.Ellipsoid && at.LengthSquared > 1)
            {
                continue;
            }

            double rise = Spread(i, 0.7548776662466927), flat = Math.Sqrt(1 - (rise * rise));
            (double s, double c) = Math.SinCos(Math.PI * Spread(i, 0.5698402909980532));
            var normal = new Vec3(flat * c, flat * s, rise);
            Vec3 across = (Math.Abs(rise) < 0.9 ? Vec3.UnitZ.Cross(normal) : Vec3.UnitX.Cross(normal)).Normalized(), along = normal.Cross(across);
            int first = vertices.Count;
            for (int corner = 0; corner < LeafCorners; corner++)
            {
                (double sine, double cosine) = Math.SinCos(2 * Math.PI * corner / LeafCorners);
                vertices.Add(part.WorldFromFoliage.ApplyToPoint(
                    new Vec3(at.X * h.X, at.Y * h.Y, at.Z * h.Z) + (LeafRadiusMetres * ((cosine * across) + (sine * along)))));
            }

            for (int corner = 2; corner < LeafCorners; corner++)
            {
                facets.Add(new Facet(first, first + corner - 1, first + corner));
            }

            drawn++;
        }

        return new TriangleMesh(vertices.ToImmutable(), facets.ToImmutable());

        static double Spread(int number, double step) => (2 * ((number * step) - Math.Floor(number * step))) - 1;
    }

    private void CheckFoliage()
    {
        Positive(WidthMetres, "width");
        Positive(HeightMetres, "height");
        Positive(DepthMetres, "depth");
        if (!Enum.IsDefined(FoliageForm))
        {
            throw new ArgumentException($"Obstacle '{Id}': form {(int)FoliageForm} is not known.");
        }

        Within(LeafRadiusMetres, SmallestLeafMetres, LargestLeafMetres, "leaf radius", "m");
        double smallest = 0.5 * Math.Min(DepthMetres, Math.Min(WidthMetres, HeightMetres));
        if (!(LeafRadiusMetres <= smallest))
        {
            throw Refused("leaf radius", LeafRadiusMetres, $"it must be at most half of the smallest size, {smallest} m");
        }

        // Random places need room: a leaf sweeps its own radius of free way on average.
        double crowded = 1 / (Math.PI * LeafRadiusMetres * LeafRadiusMetres * LeafRadiusMetres);
        if (!(LeavesPerCubicMetre > 0 && LeavesPerCubicMetre <= crowded))
        {
            throw Refused("number of leaves per cubic metre", LeavesPerCubicMetre, $"it must be above 0 and, for leaves of that radius, at most {crowded:0}", "");
        }

        Within(LeavesPart().VolumeCubicMetres * LeavesPerCubicMetre, FewestLeaves, MostLeaves, "number of leaves (volume times leaves per cubic metre)", "");
        Within(RoughnessRmsMetres ?? 0, 0, 0, "roughness, which leaves do not have,", "m");
    }

    private SolidMesh FoliageEnvelope()
    {
        FoliagePart part = LeavesPart();
        var mesh = new SolidMeshBuilder();
        if (FoliageForm == FoliageForm.Box)
        {
            mesh.Add(new SolidBox(part.WorldFromFoliage, part.HalfAxesMetres), Sides);
            return new SolidMesh(mesh.Build());
        }

        // A ball stretched along its axes, a little larger than its facets would cut it.
        mesh.Add(new SolidSphere(Vec3.Zero, 1), Sides);
        TriangleMesh ball = mesh.Build();
        Vec3 h = part.HalfAxesMetres;
        return new SolidMesh(new TriangleMesh(
            [.. ball.Vertices.Select(p => part.WorldFromFoliage.ApplyToPoint(new Vec3(p.X * h.X, p.Y * h.Y, p.Z * h.Z)))], ball.Facets));
    }
}
