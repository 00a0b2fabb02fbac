namespace SonarGeom.Studies;

/// <summary>What a trace source is.</summary>
public enum TraceKind
{
    /// <summary>An obstacle of the scene.</summary>
    Obstacle,

    /// <summary>The ground itself.</summary>
    Floor,

    /// <summary>A limb or the cane of the wearer.</summary>
    Own,
}

/// <summary>The range that a device reports after one burst, and how far it is out.</summary>
/// <param name="Label">The source that is strongest at the first crossing.</param>
/// <param name="Kind">What it is; only an obstacle is a true report.</param>
/// <param name="CrossingMetres">Where all sources together first cross the threshold, at the true speed of sound. [m]</param>
/// <param name="ReportedMetres">What the device makes of it by its assumed round trip. [m]</param>
/// <param name="TrueMetres">Half the path to the source; null for the floor, which has no one range. [m]</param>
/// <remarks>Reported less true range has two parts: the speed of sound that the device takes for granted, and the time in which the
/// echo rises to the threshold.</remarks>
public sealed record TraceReading(string Label, TraceKind Kind, double CrossingMetres, double ReportedMetres, double? TrueMetres)
{
    /// <summary>Gets reported less true range; null for the floor. [m]</summary>
    public double? ErrorMetres => ReportedMetres - TrueMetres;

    /// <summary>Gets the part of the error that comes from the assumed speed of sound. [m]</summary>
    public double AirErrorMetres => ReportedMetres - CrossingMetres;

    /// <summary>Gets the part of the error that comes from the rise of the echo; null for the floor. [m]</summary>
    public double? RiseErrorMetres => CrossingMetres - TrueMetres;
}
