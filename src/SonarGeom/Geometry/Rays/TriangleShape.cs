namespace SonarGeom.Geometry.Rays;

/// <summary>One triangle, tested exactly as the scene defines a hit: the reference of every faster test.</summary>
/// <param name="A">First corner. [m]</param>
/// <param name="B">Second corner. [m]</param>
/// <param name="C">Third corner. [m]</param>
internal readonly record struct TriangleShape(Vec3 A, Vec3 B, Vec3 C)
{
    public Bounds Bounds => Bounds.Empty.With(A).With(B).With(C);

    /// <summary>
    /// Returns the distance at which a ray passes through the triangle, from either side, or null.
    /// </summary>
    /// <remarks>
    /// The ray passes inside when the three volumes that its direction spans with the edges, seen from the origin, have
    /// the same sign. The volume of an edge taken backwards is the exact opposite, also after rounding, so that no ray
    /// slips between two triangles that share an edge. A ray in the plane of the triangle misses it.
    /// </remarks>
    public double? Intersect(in Ray ray)
    {
        Vec3 a = A - ray.Origin;
        Vec3 b = B - ray.Origin;
        Vec3 c = C - ray.Origin;
        Vec3 direction = ray.UnitDirection;
        double ab = direction.Dot(a.Cross(b));
        double bc = direction.Dot(b.Cross(c));
        double ca = direction.Dot(c.Cross(a));
        if (!((ab >= 0 && bc >= 0 && ca >= 0) || (ab <= 0 && bc <= 0 && ca <= 0)))
        {
            return null;
        }

        Vec3 normal = (B - A).Cross(C - A);
        double slope = normal.Dot(direction);
        double distance = normal.Dot(a) / slope;
        return slope != 0 && distance >= ray.NearMetres && distance <= ray.FarMetres ? distance : null;
    }
}
