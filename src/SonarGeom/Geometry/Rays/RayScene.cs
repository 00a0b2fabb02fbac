namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Triangles and analytic primitives (spheres, capsules, cylinders, boxes) that rays are tested against. All are surfaces
/// seen from both sides: a ray that starts inside a solid hits its far wall.
/// </summary>
public sealed partial class RayScene : IRayScene
{
    private readonly SearchTree _tree;

    private RayScene(PrimitiveSet primitives, int threads) => _tree = new SearchTree(primitives, threads);

    /// <summary>The scene without surfaces.</summary>
    public static RayScene Empty { get; } = new Builder().Build();

    /// <summary>Gets the number of triangles and analytic primitives.</summary>
    public int PrimitiveCount => _tree.PrimitiveCount;

    /// <summary>Returns whether another scene has the same tree, byte for byte.</summary>
    internal bool IsSameTreeAs(RayScene other) => _tree.IsSameAs(other._tree);

    /// <inheritdoc/>
    public bool AnyHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
        _tree.Search<SearchTree.Any>(
            origin.X, origin.Y, origin.Z, unitDirection.X, unitDirection.Y, unitDirection.Z, nearMetres, farMetres).Slot >= 0;

    /// <inheritdoc/>
    public RayHit? ClosestHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres)
    {
        SearchTree.Found found = _tree.Search<SearchTree.Closest>(
            origin.X, origin.Y, origin.Z, unitDirection.X, unitDirection.Y, unitDirection.Z, nearMetres, farMetres);
        return found.Slot < 0 ? null : _tree.HitOf(found);
    }

    /// <inheritdoc/>
    public bool IsClear(Vec3 lowMetres, Vec3 highMetres) => _tree.IsClear(lowMetres, highMetres);

    /// <summary>Finds the nearest hit of each ray, or null. The result does not depend on the number of threads.</summary>
    /// <param name="rays">The rays.</param>
    /// <param name="hits">Receives one entry for each ray.</param>
    /// <param name="threads">The number of threads to use; 0 for one per processor.</param>
    /// <exception cref="ArgumentException">There are fewer entries than rays.</exception>
    public void ClosestHits(ReadOnlySpan<Ray> rays, Span<RayHit?> hits, int threads = 0)
    {
        CheckRoom(rays.Length, hits.Length);
        ArgumentOutOfRangeException.ThrowIfNegative(threads);
        _tree.SearchAll(rays, hits, threads);
    }

    /// <summary>Finds for each ray whether anything lies on it. The result does not depend on the number of threads.</summary>
    /// <param name="rays">The rays.</param>
    /// <param name="hits">Receives one entry for each ray.</param>
    /// <param name="threads">The number of threads to use; 0 for one per processor.</param>
    /// <exception cref="ArgumentException">There are fewer entries than rays.</exception>
    public void AnyHits(ReadOnlySpan<Ray> rays, Span<bool> hits, int threads = 0)
    {
        CheckRoom(rays.Length, hits.Length);
        ArgumentOutOfRangeException.ThrowIfNegative(threads);
        _tree.SearchAll(rays, hits, threads);
    }

    /// <inheritdoc/>
    void IRayScene.AnyHits(ReadOnlySpan<Ray> rays, Span<bool> hits) => AnyHits(rays, hits, 1);

    /// <inheritdoc/>
    void IRayScene.ClosestHits(ReadOnlySpan<Ray> rays, Span<RayHit?> hits) => ClosestHits(rays, hits, 1);

    private static void CheckRoom(int rays, int hits)
    {
        if (hits < rays)
        {
            throw new ArgumentException($"There are {rays} rays and room for {hits} hits.", nameof(hits));
        }
    }
}
