using SonarGeom.Geometry;

namespace SonarGeom.Bodies;

/// <summary>A named place on the surface where a sensor can be worn.</summary>
/// <param name="Name">Name in words.</param>
/// <param name="Segment">The part that carries it.</param>
/// <param name="PositionMetres">Position on the surface, in the part's frame. [m]</param>
/// <param name="OutwardNormal">Unit outward normal of the surface there, in the part's frame.</param>
/// <param name="Description">Where it is, in words.</param>
public sealed record Site(string Name, SegmentId Segment, Vec3 PositionMetres, Vec3 OutwardNormal, string Description);
