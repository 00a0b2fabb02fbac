using SonarGeom.Geometry;

namespace SonarGeom.Bodies;

/// <summary>A rigid part of a body.</summary>
/// <param name="Id">Which part.</param>
/// <param name="Surface">Closed surface in the part's own frame, whose origin is the joint towards the pelvis (cane: the hand;
/// wheelchair: the ground under the hips) and whose axes are the world's when the wearer stands erect with arms hanging (cane: X
/// along the shaft).</param>
public sealed record BodySegment(SegmentId Id, TriangleMesh Surface);
