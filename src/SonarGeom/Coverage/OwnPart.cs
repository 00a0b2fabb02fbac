using SonarGeom.Bodies;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <summary>A moving part of the wearer that may answer a sensor: a limb or the cane, as a simple shape.</summary>
/// <param name="Segment">Which part.</param>
/// <param name="Name">Its name in words: "forearm left".</param>
/// <param name="Part">Its shape in the world.</param>
/// <param name="IsHidden">Whether the rest of the body stands wholly between it and the sensor.</param>
public sealed record OwnPart(SegmentId Segment, string Name, TargetPart Part, bool IsHidden);
