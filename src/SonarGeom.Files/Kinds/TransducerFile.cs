using SonarGeom.Transducers;

namespace SonarGeom.Files.Kinds;

/// <summary>What a transducer file says.</summary>
/// <param name="Transducer">The transducer.</param>
/// <param name="Claims">What its detection claims say together, when it is given by claims; else null.</param>
public sealed record TransducerFile(Transducer Transducer, ClaimSolution? Claims);
