using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes.Facets;

/// <summary>
/// A mesh made ready for the surface integral, in its own frame: a surface for each material, and what its facets hide of one another.
/// Made once for each mesh and roughness, and kept as long as the mesh is.
/// </summary>
internal sealed class MeshSurfaces
{
    private static readonly ConditionalWeakTable<MeshShape, ConcurrentDictionary<double, Lazy<MeshSurfaces>>> Made = [];

    // Looking whether a facet is exposed takes the product of facets and vertices; above this it is taken as not exposed.
    private const long MostComparisons = 20_000_000;
    private const double InFrontMetres = 1e-6;

    private MeshSurfaces(
        MeshCoarseness coarseness, ImmutableArray<FacetSurface> surfaces, ImmutableArray<(FacetSurface, bool)> pieces, RayScene scene)
    {
        Coarseness = coarseness;
        Surfaces = surfaces;
        Pieces = pieces;
        Scene = scene;
    }

    /// <summary>Gets how finely all facets together follow curved faces, also where two materials meet.</summary>
    internal MeshCoarseness Coarseness { get; }

    /// <summary>Gets the surfaces, one for each material.</summary>
    internal ImmutableArray<FacetSurface> Surfaces { get; }

    /// <summary>Gets the same facets, those of each material apart that have nothing of the mesh in front of their plane: whoever sees
    /// their front sees all of it, and no ray needs to look.</summary>
    internal ImmutableArray<(FacetSurface Surface, bool IsExposed)> Pieces { get; }

    /// <summary>Gets all facets as what can stand in the way.</summary>
    internal RayScene Scene { get; }

    /// <summary>Makes a mesh ready, or returns what was made before.</summary>
    /// <param name="shape">The mesh.</param>
    /// <param name="roughnessRmsMetres">Root-mean-square roughness. [m]</param>
    internal static MeshSurfaces Of(MeshShape shape, double roughnessRmsMetres) =>
        Made.GetOrCreateValue(shape).GetOrAdd(roughnessRmsMetres, r => new Lazy<MeshSurfaces>(() => Make(shape, r))).Value;

    /// <summary>Returns why no verdict may rest on a mesh at a frequency; empty when one may.</summary>
    /// <param name="shape">The mesh.</param>
    /// <param name="frequencyHertz">The highest frequency. [Hz]</param>
    /// <param name="wavelengthMetres">The wavelength there. [m]</param>
    internal static ImmutableArray<string> WithheldFor(MeshShape shape, double frequencyHertz, double wavelengthMetres) =>
        Of(shape, 0).Coarseness is var coarseness && coarseness.IsTooCoarseFor(wavelengthMetres)
            ? [coarseness.Explain(shape.Name, frequencyHertz, wavelengthMetres)]
            : [];

    private static MeshSurfaces Make(MeshShape shape, double roughness)
    {
        TriangleMesh whole = shape.Whole;
        bool mayLook = (long)whole.Facets.Length * whole.Vertices.Length <= MostComparisons;
        var surfaces = ImmutableArray.CreateBuilder<FacetSurface>();
        var pieces = ImmutableArray.CreateBuilder<(FacetSurface, bool)>();
        foreach (MeshMaterial material in shape.Materials)
        {
            FacetSurface all = Surface(material.Mesh);
            surfaces.Add(all);
            ILookup<bool, Facet> byExposure = material.Mesh.Facets.ToLookup(f => mayLook && !material.IsTwoSided && IsExposed(material.Mesh, f, whole));
            foreach (IGrouping<bool, Facet> group in byExposure)
            {
                pieces.Add((group.Count() == material.Mesh.Facets.Length ? all : Surface(material.Mesh with { Facets = [.. group] }), group.Key));
            }

            FacetSurface Surface(TriangleMesh mesh) => FacetSurface.Of(
                material.Name.Length == 0 ? shape.Name : $"{shape.Name}, {material.Name}", mesh, material.ReflectionLossDecibels, roughness, material.IsTwoSided);
        }

        return new MeshSurfaces(MeshCoarseness.Of(whole), surfaces.ToImmutable(), pieces.ToImmutable(), new RayScene.Builder().AddMesh(whole, 0).Build(threads: 1));
    }

    private static bool IsExposed(TriangleMesh mesh, Facet facet, TriangleMesh whole)
    {
        Vec3 corner = mesh.Vertices[facet.A];
        Vec3 normal = (mesh.Vertices[facet.B] - corner).Cross(mesh.Vertices[facet.C] - corner).Normalized();
        foreach (Vec3 vertex in whole.Vertices)
        {
            if (normal.Dot(vertex - corner) > InFrontMetres)
            {
                return false;
            }
        }

        return true;
    }
}
