using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>How finely a mesh follows its curved faces: the largest gap between a facet and the surface that it stands for.</summary>
/// <remarks>
/// <para>Two facets that meet at a small angle are taken as neighbours on one curved face. The turn of the normal over the distance
/// between their centres is the curvature, and the sagitta of a chord as wide as the wider facet is the gap. A pair of triangles
/// that halve a rectangle has its centres closer together than the rectangles have, which makes the estimate up to 1.5 times too
/// large: on the cautious side.</para>
/// <para>Facets that meet at more than <see cref="SharpestCurvedDegrees"/> are an edge, and coplanar facets are flat.</para>
/// </remarks>
/// <param name="SagittaMetres">The largest gap; 0 when no face is curved. [m]</param>
/// <param name="PositionMetres">Where it is: the middle of the edge between the two facets. [m]</param>
public sealed record MeshCoarseness(double SagittaMetres, Vec3 PositionMetres)
{
    /// <summary>Facets that meet at up to this angle count as one curved face. [°]</summary>
    public const double SharpestCurvedDegrees = 50.0;

    /// <summary>A mesh is fine enough when its sagitta is at most the wavelength over this.</summary>
    public const double WavelengthsPerSagitta = 200.0;

    /// <summary>The same angle. [rad]</summary>
    internal const double SharpestRadians = SharpestCurvedDegrees * Math.PI / 180.0;

    private const double FlatRadians = 1e-4;

    /// <summary>Gets the coarseness of a mesh whose facets are the true shape.</summary>
    public static MeshCoarseness Exact { get; } = new(0.0, Vec3.Zero);

    /// <summary>Measures a mesh.</summary>
    /// <param name="mesh">The mesh. Vertices at the same position count as one.</param>
    public static MeshCoarseness Of(TriangleMesh mesh)
    {
        MeshCoarseness worst = Exact;
        MeshEdges.Visit(mesh, edge => worst = worst.With(edge));
        return worst;
    }

    /// <summary>The worse of this and the gap at an edge.</summary>
    internal MeshCoarseness With(in MeshEdge edge)
    {
        double turn = Math.Abs(edge.TurnRadians);
        if (turn < FlatRadians || turn > SharpestRadians)
        {
            return this;
        }

        // Heights of the two facets over their common edge; their centres stand a third of that from it.
        double spacing = (edge.LeftHeightMetres + edge.RightHeightMetres) / 3.0;
        double chord = Math.Max(edge.LeftHeightMetres, edge.RightHeightMetres);
        double sagitta = turn / spacing * chord * chord / 8.0;
        return sagitta > SagittaMetres ? new MeshCoarseness(sagitta, 0.5 * (edge.StartMetres + edge.EndMetres)) : this;
    }

    /// <summary>Returns whether the mesh is too coarse for a wavelength, so that no verdict may rest on it.</summary>
    /// <param name="wavelengthMetres">The wavelength. [m]</param>
    public bool IsTooCoarseFor(double wavelengthMetres) => SagittaMetres * WavelengthsPerSagitta > wavelengthMetres;

    /// <summary>Returns the sentence that a result carries when the mesh is too coarse.</summary>
    /// <param name="name">Name of the surface.</param>
    /// <param name="frequencyHertz">The highest frequency. [Hz]</param>
    /// <param name="wavelengthMetres">The wavelength there. [m]</param>
    public string Explain(string name, double frequencyHertz, double wavelengthMetres) =>
        $"{name} is too coarse for {frequencyHertz * 1e-3:0.#} kHz: its curved faces stand off by {SagittaMetres * 1e3:0.###} mm " +
        $"near ({PositionMetres.X:0.###}, {PositionMetres.Y:0.###}, {PositionMetres.Z:0.###}) m; at most " +
        $"{wavelengthMetres * 1e3 / WavelengthsPerSagitta:0.###} mm (wavelength over {WavelengthsPerSagitta:0}) gives a verdict.";
}
