using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Facets;

/// <summary>Echoes of many random scatterers, one for each member of a seeded ensemble.</summary>
/// <param name="Members">The echoes; their phases differ at random, so levels fluctuate as those of noise do.</param>
public sealed record EnsembleEcho(ImmutableArray<EchoSpectrum> Members)
{
    /// <summary>Returns the level of the mean power over members and band, re the transmitter's pressure at 1 m. [dB]</summary>
    public double MeanDecibels() => Decibels.FromPowerRatio(Members.Average(echo => Decibels.ToPowerRatio(echo.BandMeanDecibels())));

    /// <summary>Returns the band mean that a share of the members stay below, re the transmitter's pressure at 1 m. [dB]</summary>
    /// <param name="share">From 0 to 1; 0.5 is the median.</param>
    public double QuantileDecibels(double share)
    {
        Finite.Within(share, 0.0, 1.0, nameof(share), "(no unit)");
        double[] levels = [.. Members.Select(echo => echo.BandMeanDecibels()).Order()];
        double position = share * (levels.Length - 1);
        int below = Math.Min((int)position, levels.Length - 1);
        int above = Math.Min(below + 1, levels.Length - 1);
        return levels[below] + ((position - below) * (levels[above] - levels[below]));
    }
}
