namespace SonarGeom.Layouts;

/// <summary>A burst whose echoes may still come in while a sensor listens.</summary>
/// <param name="Sensor">Index of the sensor that sent it.</param>
/// <param name="ElapsedSeconds">How long before the listener's own burst it was sent; 0 for one sent together with it, below 0 for one sent while the listener already listens. [s]</param>
public readonly record struct EarlierBurst(int Sensor, double ElapsedSeconds);
