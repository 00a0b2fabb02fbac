namespace SonarGeom.Layouts;

/// <summary>One burst of one sensor.</summary>
/// <param name="Sensor">Index of the sensor.</param>
/// <param name="Cycle">Number of the cycle, from 0.</param>
/// <param name="StartSeconds">Start of the burst. [s]</param>
public readonly record struct Burst(int Sensor, int Cycle, double StartSeconds);
