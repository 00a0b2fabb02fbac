using SonarGeom.Geometry;

namespace SonarGeom.Bodies;

/// <summary>A named anatomical point.</summary>
/// <param name="Name">Name in words.</param>
/// <param name="Segment">The part that carries it.</param>
/// <param name="PositionMetres">Position in the part's frame. [m]</param>
/// <param name="StandardErrorMetres">Standard error of its height among people of this stature (and mass, if given); its position
/// ahead and sideways is drawn by eye where no breadth is tabled. [m]</param>
/// <param name="Definition">How it is found.</param>
public sealed record Landmark(string Name, SegmentId Segment, Vec3 PositionMetres, double StandardErrorMetres, string Definition);
