namespace SonarGeom.Layouts;

/// <summary>Where the echo of an earlier burst seems to be.</summary>
/// <param name="BurstsBefore">How many cycles before the listener's own burst it was sent, from 1.</param>
/// <param name="ApparentRangeMetres">The range that the device would report. [m]</param>
public readonly record struct Ghost(int BurstsBefore, double ApparentRangeMetres);
