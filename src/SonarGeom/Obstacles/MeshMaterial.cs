using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>The facets of a mesh that are of one material.</summary>
/// <param name="Name">The name of the material; empty for facets of none.</param>
/// <param name="Mesh">The facets. [m]</param>
/// <param name="ReflectionLossDecibels">Loss of the material at one reflection, 0 to 100. [dB]</param>
/// <param name="IsTwoSided">Whether the facets stand for thin sheets that answer on both sides.</param>
public sealed record MeshMaterial(string Name, TriangleMesh Mesh, double ReflectionLossDecibels = 0, bool IsTwoSided = false);
