using System.Runtime.InteropServices;
using SonarGeom.Files.Faults;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Meshes;

/// <summary>What a mesh file holds: positions in its own unit and axes, and triangles by material.</summary>
/// <param name="fileName">How faults call the file.</param>
internal sealed class RawMesh(string fileName)
{
    /// <summary>The most vertices that a file may have.</summary>
    internal const int MostVertices = 3 * MeshShape.MostFacets;

    private readonly List<Vec3> _positions = [];
    private readonly List<(string Name, bool IsTwoSided, List<Facet> Facets)> _materials = [];
    private readonly Dictionary<string, int> _places = new(StringComparer.Ordinal);
    private int _facets;

    /// <summary>Gets the positions.</summary>
    internal ReadOnlySpan<Vec3> Positions => CollectionsMarshal.AsSpan(_positions);

    /// <summary>Gets the number of positions.</summary>
    internal int VertexCount => _positions.Count;

    /// <summary>Gets the number of triangles.</summary>
    internal int FacetCount => _facets;

    /// <summary>Gets the materials that have triangles.</summary>
    internal IEnumerable<(string Name, bool IsTwoSided, List<Facet> Facets)> Materials => _materials.Where(m => m.Facets.Count > 0);

    /// <summary>Adds a position.</summary>
    /// <exception cref="InvalidInputException">There are too many.</exception>
    internal void AddPosition(Vec3 position)
    {
        if (_positions.Count >= MostVertices)
        {
            throw new InvalidInputException(fileName, $"The mesh has more than {MostVertices} vertices; it may have at most that many.");
        }

        _positions.Add(position);
    }

    /// <summary>Returns the place of a material, which is added when it is new.</summary>
    internal int Material(string name, bool isTwoSided = false)
    {
        string key = isTwoSided ? $"2 {name}" : $"1 {name}";
        if (!_places.TryGetValue(key, out int place))
        {
            place = _materials.Count;
            _places.Add(key, place);
            _materials.Add((name, isTwoSided, []));
        }

        return place;
    }

    /// <summary>Adds a triangle.</summary>
    /// <exception cref="InvalidInputException">There are too many.</exception>
    internal void AddFacet(int material, Facet facet)
    {
        if (_facets >= MeshShape.MostFacets)
        {
            throw new InvalidInputException(fileName, $"The mesh has more than {MeshShape.MostFacets} triangles; it may have at most that many.");
        }

        _facets++;
        _materials[material].Facets.Add(facet);
    }
}
