namespace SonarGeom.Coverage;

/// <summary>Grid of the approach maps.</summary>
/// <param name="CellMetres">Edge of a cell. [m]</param>
/// <param name="MarginMetres">Border around the swept silhouette. [m]</param>
/// <param name="HorizonMetres">Farthest distance ahead that is searched for a first report. [m]</param>
/// <param name="DistanceStepMetres">Step of that search before refinement: about the way walked in one firing cycle. [m]</param>
public sealed record MapSettings(
    double CellMetres = 0.02,
    double MarginMetres = 0.10,
    double HorizonMetres = 3.2,
    double DistanceStepMetres = 0.20);
