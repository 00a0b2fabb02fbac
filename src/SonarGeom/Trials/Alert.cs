using SonarGeom.Layouts;

namespace SonarGeom.Trials;

/// <summary>An alert that the wearer feels or hears.</summary>
/// <param name="FeltSeconds">When it begins, from the start of the walk. [s]</param>
/// <param name="Message">What it tells.</param>
/// <param name="Sensor">Index of the sensor.</param>
/// <param name="RangeMetres">The range reported by the deciding ping. [m]</param>
/// <param name="Source">What that ping came from.</param>
/// <param name="Hazard">Index of the obstacle, or −1.</param>
internal readonly record struct Alert(double FeltSeconds, AlertMessage Message, int Sensor, double RangeMetres, AlertSource Source, int Hazard);
