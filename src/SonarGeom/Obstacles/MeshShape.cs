using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>
/// The surface of a scanned or drawn thing in its own frame (X away from the wearer, Y left, Z up), cleaned: no facet without an
/// area, none that is there twice, each position once. Immutable.
/// </summary>
public sealed class MeshShape
{
    /// <summary>The farthest that a vertex may lie from the origin along any axis. [m]</summary>
    public const double FarthestMetres = 1000;

    /// <summary>The most facets that a mesh may have.</summary>
    public const int MostFacets = 2_000_000;

    private readonly Lazy<TriangleMesh> _whole;

    internal MeshShape(string name, ImmutableArray<MeshMaterial> materials, MeshCleaning cleaning)
    {
        Name = name;
        Materials = materials;
        Cleaning = cleaning;
        Bounds = BoundingBox.Of([.. materials.SelectMany(m => m.Mesh.Vertices)]);
        _whole = new(() => Joined(materials));
    }

    /// <summary>Gets what the mesh is called in results.</summary>
    public string Name { get; }

    /// <summary>Gets its facets by material; none is empty.</summary>
    public ImmutableArray<MeshMaterial> Materials { get; }

    /// <summary>Gets what was cleaned.</summary>
    public MeshCleaning Cleaning { get; }

    /// <summary>Gets the box that holds it. [m]</summary>
    public BoundingBox Bounds { get; }

    /// <summary>Gets the number of facets.</summary>
    public int FacetCount => Materials.Sum(m => m.Mesh.Facets.Length);

    /// <summary>Gets all facets together. [m]</summary>
    public TriangleMesh Whole => _whole.Value;

    /// <summary>Cleans a mesh: positions that come twice become one, facets without area and repeated facets go, and a closed surface
    /// whose facets all look inward is turned outward.</summary>
    /// <param name="name">What the mesh is called in results.</param>
    /// <param name="materials">Its facets by material. [m]</param>
    /// <exception cref="ArgumentException">
    /// A coordinate is not finite or beyond 1000 m, an index is out of range, there are more than two million facets, or none is left
    /// after cleaning.
    /// </exception>
    public static MeshShape Of(string name, ImmutableArray<MeshMaterial> materials)
    {
        if (string.IsNullOrWhiteSpace(name))
        {
            throw new ArgumentException("A mesh has no name; it needs a short one.", nameof(name));
        }

        return MeshCleaning.Clean(name, materials.IsDefault ? [] : materials);
    }

    private static TriangleMesh Joined(ImmutableArray<MeshMaterial> materials)
    {
        if (materials.Length == 1)
        {
            return materials[0].Mesh;
        }

        var vertices = ImmutableArray.CreateBuilder<Vec3>(materials.Sum(m => m.Mesh.Vertices.Length));
        var facets = ImmutableArray.CreateBuilder<Facet>(materials.Sum(m => m.Mesh.Facets.Length));
        foreach (MeshMaterial material in materials)
        {
            int first = vertices.Count;
            vertices.AddRange(material.Mesh.Vertices);
            foreach (Facet facet in material.Mesh.Facets)
            {
                facets.Add(new Facet(first + facet.A, first + facet.B, first + facet.C));
            }
        }

        return new TriangleMesh(vertices.MoveToImmutable(), facets.MoveToImmutable());
    }
}
