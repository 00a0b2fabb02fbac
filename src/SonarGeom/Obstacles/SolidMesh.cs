using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A solid or sheet given by triangles.</summary>
/// <param name="Mesh">The triangles. [m]</param>
public sealed record SolidMesh(TriangleMesh Mesh) : SolidPrimitive;
