using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <content>Foliage: bushes, hedges, crowns and leafy branches.</content>
public sealed partial record Obstacle
{
    private const double SmallestLeafMetres = 0.005;
    private const double LargestLeafMetres = 0.15;
    private const double FewestLeaves = 10;
    private const double MostLeaves = 1e6;

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

        // A ball stretched along its axes.
        mesh.Add(new SolidSphere(Vec3.Zero, 1), Sides);
        TriangleMesh ball = mesh.Build();
        Vec3 h = part.HalfAxesMetres;
        return new SolidMesh(new TriangleMesh(
            [.. ball.Vertices.Select(p => part.WorldFromFoliage.ApplyToPoint(new Vec3(p.X * h.X, p.Y * h.Y, p.Z * h.Z)))], ball.Facets));
    }
}
