using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A solid box at any attitude.</summary>
/// <param name="WorldFromBox">Pose of its middle.</param>
/// <param name="HalfSizesMetres">Half its sizes along its own axes. [m]</param>
public sealed record SolidBox(RigidTransform WorldFromBox, Vec3 HalfSizesMetres) : SolidPrimitive;
