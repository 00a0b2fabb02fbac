using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>Leaves that fill an ellipsoid or a box: round flat discs at random places and attitudes, which answer together.</summary>
/// <param name="Name">What it is.</param>
/// <param name="WorldFromFoliage">Its pose; the origin is the middle, the axes are those of the form.</param>
/// <param name="Form">The form that is filled.</param>
/// <param name="HalfAxesMetres">Half of its sizes along its own axes, each above 0. [m]</param>
/// <param name="LeafRadiusMetres">Radius of a leaf. [m]</param>
/// <param name="LeavesPerCubicMetre">Number of leaves per volume. [1/m³]</param>
/// <param name="ReflectionLossDecibels">Loss of one reflection. [dB]</param>
/// <remarks>
/// All attitudes of a leaf are equally likely (the spherical distribution of leaf angles; common practice in the optics of
/// canopies, from memory): a leaf of area A throws a mean shadow of A/2 in every direction.
/// </remarks>
public sealed record FoliagePart(
    string Name, RigidTransform WorldFromFoliage, FoliageForm Form, Vec3 HalfAxesMetres, double LeafRadiusMetres, double LeavesPerCubicMetre,
    double ReflectionLossDecibels = 0)
    : TargetPart(Name, ReflectionLossDecibels)
{
    /// <summary>Gets half of its sizes along its own axes. [m]</summary>
    public Vec3 HalfAxesMetres { get; init; } = new(
        Size(HalfAxesMetres.X, nameof(HalfAxesMetres)), Size(HalfAxesMetres.Y, nameof(HalfAxesMetres)), Size(HalfAxesMetres.Z, nameof(HalfAxesMetres)));

    /// <summary>Gets the radius of a leaf. [m]</summary>
    public double LeafRadiusMetres { get; init; } = Size(LeafRadiusMetres, nameof(LeafRadiusMetres));

    /// <summary>Gets the number of leaves per volume. [1/m³]</summary>
    public double LeavesPerCubicMetre { get; init; } = LeavesPerCubicMetre > 0 && double.IsFinite(LeavesPerCubicMetre)
        ? LeavesPerCubicMetre
        : throw new ArgumentOutOfRangeException(nameof(LeavesPerCubicMetre), $"{nameof(LeavesPerCubicMetre)} is {LeavesPerCubicMetre}; it must be above 0.");

    /// <inheritdoc/>
    public override Vec3 Middle => WorldFromFoliage.Translation;

    /// <summary>Gets the area of one side of a leaf. [m²]</summary>
    public double LeafAreaSquareMetres => Math.PI * LeafRadiusMetres * LeafRadiusMetres;

    /// <summary>Gets the volume that is filled. [m³]</summary>
    public double VolumeCubicMetres =>
        (Form == FoliageForm.Box ? 8 : 4.0 / 3.0 * Math.PI) * HalfAxesMetres.X * HalfAxesMetres.Y * HalfAxesMetres.Z;

    /// <summary>Gets the share of its power that a wave loses per length, one way: N·A/2, half the leaf area per volume. [1/m]</summary>
    /// <remarks>
    /// The shadow alone. What is bent round a leaf is as much again and goes on nearly straight, so that it lights the leaves behind
    /// as the wave itself would have.
    /// </remarks>
    public double ExtinctionPerMetre => 0.5 * LeafAreaSquareMetres * LeavesPerCubicMetre;

    /// <inheritdoc/>
    public override TargetPart Moved(RigidTransform targetFromSource) => this with { WorldFromFoliage = targetFromSource * WorldFromFoliage };

    /// <summary>Returns how much of the straight way between two points lies among the leaves. [m]</summary>
    /// <param name="fromMetres">One end, in the world. [m]</param>
    /// <param name="toMetres">The other end. [m]</param>
    public double LengthWithinMetres(Vec3 fromMetres, Vec3 toMetres)
    {
        double length = fromMetres.DistanceTo(toMetres);
        if (!(length > 0))
        {
            return 0;
        }

        Vec3 from = WorldFromFoliage.Rotation.ApplyInverse(fromMetres - WorldFromFoliage.Translation);
        Vec3 along = WorldFromFoliage.Rotation.ApplyInverse((toMetres - fromMetres) / length);
        return Crosses(from, along, out double near, out double far) ? Math.Max(0, Math.Min(far, length) - Math.Max(near, 0)) : 0;
    }

    /// <summary>Returns whether a line meets the form, and where, in the form's own frame; both may lie behind the start. [m]</summary>
    internal bool Crosses(Vec3 from, Vec3 unitDirection, out double near, out double far)
    {
        Vec3 h = HalfAxesMetres;
        if (Form == FoliageForm.Box)
        {
            (near, far) = (double.NegativeInfinity, double.PositiveInfinity);
            Slab(from.X, unitDirection.X, h.X, ref near, ref far);
            Slab(from.Y, unitDirection.Y, h.Y, ref near, ref far);
            Slab(from.Z, unitDirection.Z, h.Z, ref near, ref far);
            return far > near;
        }

        // |p + t d| = 1 with all lengths over the half axes.
        var p = new Vec3(from.X / h.X, from.Y / h.Y, from.Z / h.Z);
        var d = new Vec3(unitDirection.X / h.X, unitDirection.Y / h.Y, unitDirection.Z / h.Z);
        double a = d.LengthSquared, b = p.Dot(d), c = p.LengthSquared - 1;
        double root = (b * b) - (a * c);
        if (!(root > 0))
        {
            (near, far) = (0, 0);
            return false;
        }

        root = Math.Sqrt(root);
        (near, far) = ((-b - root) / a, (-b + root) / a);
        return true;
    }

    private static void Slab(double from, double direction, double half, ref double near, ref double far)
    {
        if (Math.Abs(direction) < 1e-12)
        {
            far = Math.Abs(from) < half ? far : double.NegativeInfinity;
            return;
        }

        double one = (-half - from) / direction, other = (half - from) / direction;
        near = Math.Max(near, Math.Min(one, other));
        far = Math.Min(far, Math.Max(one, other));
    }
}
