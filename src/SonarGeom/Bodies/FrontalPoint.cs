namespace SonarGeom.Bodies;

/// <summary>A point of the frontal plane.</summary>
/// <param name="YMetres">To the left of the midline. [m]</param>
/// <param name="ZMetres">Above the ground. [m]</param>
public readonly record struct FrontalPoint(double YMetres, double ZMetres);
