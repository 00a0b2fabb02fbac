namespace SonarGeom.Bodies;

/// <summary>A body measure and how far a person of that stature may differ from it.</summary>
/// <param name="Value">The expected value. [m], or [kg] for the mass</param>
/// <param name="StandardError">Standard deviation of real people about it. Same unit.</param>
public readonly record struct Estimate(double Value, double StandardError);
