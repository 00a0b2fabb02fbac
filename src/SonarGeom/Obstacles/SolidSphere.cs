using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A solid sphere.</summary>
/// <param name="CentreMetres">Its centre. [m]</param>
/// <param name="RadiusMetres">Its radius. [m]</param>
public sealed record SolidSphere(Vec3 CentreMetres, double RadiusMetres) : SolidPrimitive;
