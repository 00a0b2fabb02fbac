using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

/// <summary>A solid round cylinder with flat ends.</summary>
/// <param name="End1Metres">Middle of one end. [m]</param>
/// <param name="End2Metres">Middle of the other end. [m]</param>
/// <param name="RadiusMetres">Its radius. [m]</param>
public sealed record SolidCylinder(Vec3 End1Metres, Vec3 End2Metres, double RadiusMetres) : SolidPrimitive;
