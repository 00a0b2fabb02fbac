using SonarGeom.Mounting;
using SonarGeom.Transducers;

namespace SonarGeom.Layouts;

/// <summary>One sensor of a layout.</summary>
/// <param name="Name">Name under which results are told.</param>
/// <param name="Transducer">What it hears and sends with.</param>
/// <param name="Mount">Where it is worn and where it looks.</param>
/// <param name="Announces">The side that its alert announces.</param>
public sealed record SensorPlacement(string Name, Transducer Transducer, Mount Mount, AnnouncedSide Announces);
