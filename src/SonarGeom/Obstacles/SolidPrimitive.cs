using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A solid that rays can be tested against: what an obstacle hides things behind.</summary>
public abstract record SolidPrimitive;

/// <summary>A solid sphere.</summary>
/// <param name="CentreMetres">Its centre. [m]</param>
/// <param name="RadiusMetres">Its radius. [m]</param>
public sealed record SolidSphere(Vec3 CentreMetres, double RadiusMetres) : SolidPrimitive;

/// <summary>A solid round cylinder with flat ends.</summary>
/// <param name="End1Metres">Middle of one end. [m]</param>
/// <param name="End2Metres">Middle of the other end. [m]</param>
/// <param name="RadiusMetres">Its radius. [m]</param>
public sealed record SolidCylinder(Vec3 End1Metres, Vec3 End2Metres, double RadiusMetres) : SolidPrimitive;

/// <summary>A solid box at any attitude.</summary>
/// <param name="WorldFromBox">Pose of its middle.</param>
/// <param name="HalfSizesMetres">Half its sizes along its own axes. [m]</param>
public sealed record SolidBox(RigidTransform WorldFromBox, Vec3 HalfSizesMetres) : SolidPrimitive;

/// <summary>A solid or sheet given by triangles.</summary>
/// <param name="Mesh">The triangles. [m]</param>
public sealed record SolidMesh(TriangleMesh Mesh) : SolidPrimitive;
