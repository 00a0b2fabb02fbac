using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Facets;

/// <summary>A triangle mesh made ready for the surface integral: outward normals, areas, material.</summary>
public sealed class FacetSurface
{
    private const double LargestMetres = 1000.0;

    private readonly Lazy<ImmutableArray<FacetFace>> _pieces;

    private FacetSurface(string name, ImmutableArray<FacetFace> faces, TriangleMesh mesh, MeshCoarseness coarseness, MeshEdges sharpEdges)
    {
        Name = name;
        Faces = faces;
        _pieces = new(() => SurfaceIntegral.Pieces(faces));
        Mesh = mesh;
        Coarseness = coarseness;
        SharpEdges = sharpEdges;
        LargestRadiusMetres = Math.Sqrt(faces.Max(face => face.Corners.RadiusSquared));
    }

    /// <summary>Gets what the surface is called in results.</summary>
    public string Name { get; }

    /// <summary>Gets the flat faces: facets that have an area, paired where two make up a flat quadrilateral.</summary>
    public ImmutableArray<FacetFace> Faces { get; }

    /// <summary>Gets the same faces with large ones split, so that there are enough to share out: made once for all sensors.</summary>
    internal ImmutableArray<FacetFace> Pieces => _pieces.Value;

    /// <summary>Gets the mesh that the facets were made from.</summary>
    public TriangleMesh Mesh { get; }

    /// <summary>Gets how finely the mesh follows its curved faces.</summary>
    public MeshCoarseness Coarseness { get; }

    /// <summary>Gets the largest distance from the middle of a face to one of its corners. [m]</summary>
    public double LargestRadiusMetres { get; }

    /// <summary>Gets the edges at which the mesh turns too sharply to be a curved face, and its borders.</summary>
    public MeshEdges SharpEdges { get; }

    /// <summary>Gets the loss of one reflection. [dB]</summary>
    public double ReflectionLossDecibels { get; private init; }

    /// <summary>Gets the root-mean-square height of the roughness. [m]</summary>
    public double RoughnessRmsMetres { get; private init; }

    /// <summary>Gets whether facets reflect on both sides, as thin open sheets do.</summary>
    public bool IsTwoSided { get; private init; }

    /// <summary>Lists the sharp convex edges; of a sheet that reflects on both sides, its borders too.</summary>
    internal List<WedgeEdge> Wedges()
    {
        List<WedgeEdge> wedges = [.. SharpEdges.Shared.Where(edge => edge.TurnRadians > 0).Select(edge => new WedgeEdge(edge))];
        if (IsTwoSided)
        {
            wedges.AddRange(SharpEdges.Borders.Select(edge => new WedgeEdge(edge)));
        }

        return wedges;
    }

    /// <summary>Prepares a mesh.</summary>
    /// <param name="name">What the surface is called in results.</param>
    /// <param name="mesh">The mesh; facets without area are left out.</param>
    /// <param name="reflectionLossDecibels">Loss of one reflection, from 0. [dB]</param>
    /// <param name="roughnessRmsMetres">Root-mean-square roughness, from 0. [m]</param>
    /// <param name="isTwoSided">Whether facets reflect on both sides.</param>
    /// <param name="hasFlatFaces">Whether the facets are the true shape, however they meet: then no face counts as a coarse copy
    /// of a curved one.</param>
    /// <exception cref="ArgumentException">A vertex is not finite or farther than 1000 m from the origin, an index is out of range, or no facet has an area.</exception>
    public static FacetSurface Of(
        string name,
        TriangleMesh mesh,
        double reflectionLossDecibels = 0.0,
        double roughnessRmsMetres = 0.0,
        bool isTwoSided = false,
        bool hasFlatFaces = false)
    {
        ArgumentNullException.ThrowIfNull(mesh);
        Finite.Within(reflectionLossDecibels, 0.0, 200.0, nameof(reflectionLossDecibels), "dB");
        Finite.Within(roughnessRmsMetres, 0.0, 1.0, nameof(roughnessRmsMetres), "m");
        for (int i = 0; i < mesh.Vertices.Length; i++)
        {
            // Also false for what is not a number.
            Vec3 v = mesh.Vertices[i];
            if (!(Math.Max(Math.Abs(v.X), Math.Max(Math.Abs(v.Y), Math.Abs(v.Z))) <= LargestMetres))
            {
                throw new ArgumentException(
                    $"Vertex {i} of {name} is ({v.X}, {v.Y}, {v.Z}) m; every coordinate must be finite and within {LargestMetres} m.", nameof(mesh));
            }
        }

        uint count = (uint)mesh.Vertices.Length;
        for (int i = 0; i < mesh.Facets.Length; i++)
        {
            Facet facet = mesh.Facets[i];
            if ((uint)facet.A >= count || (uint)facet.B >= count || (uint)facet.C >= count)
            {
                throw new ArgumentException($"Facet {i} of {name} is {facet}; every index must be below {count}.", nameof(mesh));
            }
        }

        ImmutableArray<FacetFace> faces = FacetFace.All(mesh);
        if (faces.IsEmpty)
        {
            throw new ArgumentException($"{name} has no facet with an area.", nameof(mesh));
        }

        MeshCoarseness coarseness = MeshCoarseness.Exact;
        var sharp = ImmutableArray.CreateBuilder<MeshEdge>();
        ImmutableArray<MeshEdge> borders = MeshEdges.Visit(mesh, edge =>
        {
            coarseness = hasFlatFaces ? coarseness : coarseness.With(edge);
            if (Math.Abs(edge.TurnRadians) > MeshCoarseness.SharpestRadians)
            {
                sharp.Add(edge);
            }
        });
        return new FacetSurface(name, faces, mesh, coarseness, new MeshEdges(sharp.ToImmutable(), borders))
        {
            ReflectionLossDecibels = reflectionLossDecibels,
            RoughnessRmsMetres = roughnessRmsMetres,
            IsTwoSided = isTwoSided,
        };
    }
}
