namespace SonarGeom.Trials;

/// <summary>What a sensor reports of one ping.</summary>
/// <param name="RangeMetres">The range that the device tells; infinite when it reports nothing. [m]</param>
/// <param name="Source">What it comes from.</param>
/// <param name="Hazard">Index of the obstacle, or −1.</param>
internal readonly record struct PingReport(double RangeMetres, AlertSource Source, int Hazard)
{
    internal static PingReport Silence { get; } = new(double.PositiveInfinity, AlertSource.Noise, -1);

    internal bool IsSilent => double.IsPositiveInfinity(RangeMetres);
}
