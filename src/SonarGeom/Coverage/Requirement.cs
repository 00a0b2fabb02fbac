namespace SonarGeom.Coverage;

/// <summary>A demand on the approach maps: at least a share of a band must be warned a stated time ahead for a stated probe.</summary>
/// <param name="Text">The demand in the designer's words.</param>
/// <param name="Band">The height band.</param>
/// <param name="ProbeName">Name of the probe.</param>
/// <param name="WarningSeconds">Least warning time. [s]</param>
/// <param name="ShareFraction">Least share of the band's silhouette cells, 0 to 1. [unitless]</param>
public sealed record Requirement(string Text, HeightBand Band, string ProbeName, double WarningSeconds, double ShareFraction);
