using System.Collections.Immutable;
using System.Numerics;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Facets;

/// <summary>The complex echo of one or more surfaces at evenly spaced frequencies.</summary>
/// <remarks>
/// <para>Values are pressures at the receiver, its beam included, for a transmitter with unit pressure at 1 m on its axis. Time runs
/// as exp(−iωt), so that a delay by a path L is the factor exp(+ikL).</para>
/// </remarks>
public sealed record EchoSpectrum
{
    /// <summary>Returns the echo weakened by a loss, 0 or negative. [dB]</summary>
    internal EchoSpectrum Weakened(double lossDecibels) => lossDecibels == 0
        ? this
        : this with { Pressures = [.. Pressures.Select(p => p * Decibels.ToAmplitudeRatio(lossDecibels))] };

    /// <summary>Makes a spectrum.</summary>
    /// <param name="band">The frequencies.</param>
    /// <param name="pressures">The echo at each of them, per unit pressure at 1 m. [unitless]</param>
    /// <param name="nearestPathMetres">Shortest path over the facets that took part; 0 when none did. [m]</param>
    /// <param name="farthestPathMetres">Longest path over them. [m]</param>
    /// <exception cref="ArgumentException">There is not one value for each frequency.</exception>
    public EchoSpectrum(FrequencyBand band, ImmutableArray<Complex> pressures, double nearestPathMetres, double farthestPathMetres)
    {
        ArgumentNullException.ThrowIfNull(band);
        if (pressures.Length != band.Count)
        {
            throw new ArgumentException($"There are {pressures.Length} values for {band.Count} frequencies.", nameof(pressures));
        }

        Band = band;
        Pressures = pressures;
        NearestPathMetres = nearestPathMetres;
        FarthestPathMetres = farthestPathMetres;
    }

    /// <summary>Gets the frequencies.</summary>
    public FrequencyBand Band { get; }

    /// <summary>Gets the echo at each frequency, per unit pressure at 1 m. [unitless]</summary>
    public ImmutableArray<Complex> Pressures { get; private init; }

    /// <summary>Gets the shortest path, transmitter to facet to receiver; 0 when no facet took part. [m]</summary>
    public double NearestPathMetres { get; }

    /// <summary>Gets the longest path. [m]</summary>
    public double FarthestPathMetres { get; }

    /// <summary>Gets the names of surfaces whose mesh is too coarse, with the reason. While there are any, no verdict may rest on
    /// this echo.</summary>
    public ImmutableArray<string> Withheld { get; init; } = [];

    /// <summary>Gets the number of facets summed, after subdivision, over all paths.</summary>
    public long FacetsSummed { get; init; }

    /// <summary>Gets the estimated error, relative to the largest magnitude in the band; null when it was not estimated.</summary>
    public double? EstimatedRelativeError { get; init; }

    /// <summary>Gets whether nothing stands against a verdict on this echo.</summary>
    public bool IsVerdictAllowed => Withheld.IsEmpty;

    internal EchoSpectrum WithPressures(ImmutableArray<Complex> pressures) => this with { Pressures = pressures };

    /// <summary>Returns the level at one frequency, re the transmitter's pressure at 1 m. [dB]</summary>
    /// <param name="index">Number of the frequency, from 0.</param>
    public double LevelDecibels(int index) => Decibels.FromAmplitudeRatio(Pressures[index].Magnitude);

    /// <summary>Returns the band mean: the weighted mean of the power over the band, re the transmitter's pressure at 1 m. [dB]</summary>
    /// <param name="powerWeights">A weight for each frequency; their sum is divided out.</param>
    public double BandMeanDecibels(ReadOnlySpan<double> powerWeights)
    {
        if (powerWeights.Length != Pressures.Length)
        {
            throw new ArgumentException($"There are {powerWeights.Length} weights for {Pressures.Length} frequencies.", nameof(powerWeights));
        }

        double sum = 0.0;
        double weight = 0.0;
        for (int j = 0; j < powerWeights.Length; j++)
        {
            double magnitude = Pressures[j].Magnitude;
            sum += powerWeights[j] * magnitude * magnitude;
            weight += powerWeights[j];
        }

        return Decibels.FromPowerRatio(sum / weight);
    }

    /// <summary>Returns the mean of the power over the band with even weights, re the transmitter's pressure at 1 m. [dB]</summary>
    public double BandMeanDecibels()
    {
        double sum = 0.0;
        foreach (Complex pressure in Pressures)
        {
            sum += (pressure.Real * pressure.Real) + (pressure.Imaginary * pressure.Imaginary);
        }

        return Decibels.FromPowerRatio(sum / Pressures.Length);
    }

    /// <summary>Returns the coherent sum of two echoes of the same sensor.</summary>
    /// <param name="one">An echo.</param>
    /// <param name="other">Another echo at the same frequencies.</param>
    public static EchoSpectrum operator +(EchoSpectrum one, EchoSpectrum other) => one.Plus(other);

    /// <summary>Returns the coherent sum with another echo of the same sensor.</summary>
    /// <param name="other">Another echo at the same frequencies.</param>
    /// <exception cref="ArgumentException">The frequencies differ.</exception>
    public EchoSpectrum Plus(EchoSpectrum other)
    {
        ArgumentNullException.ThrowIfNull(other);
        if (Band != other.Band)
        {
            throw new ArgumentException($"The bands differ: {Band} and {other.Band}.", nameof(other));
        }

        var sum = ImmutableArray.CreateBuilder<Complex>(Band.Count);
        for (int j = 0; j < Band.Count; j++)
        {
            sum.Add(Pressures[j] + other.Pressures[j]);
        }

        double nearest = NearestPathMetres == 0 ? other.NearestPathMetres
            : other.NearestPathMetres == 0 ? NearestPathMetres
            : Math.Min(NearestPathMetres, other.NearestPathMetres);
        return new EchoSpectrum(Band, sum.MoveToImmutable(), nearest, Math.Max(FarthestPathMetres, other.FarthestPathMetres))
        {
            Withheld = [.. Withheld, .. other.Withheld],
            FacetsSummed = FacetsSummed + other.FacetsSummed,
            EstimatedRelativeError = EstimatedRelativeError is { } a && other.EstimatedRelativeError is { } b ? Math.Max(a, b) : null,
        };
    }
}
