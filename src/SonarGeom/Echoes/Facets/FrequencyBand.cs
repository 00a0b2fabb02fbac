namespace SonarGeom.Echoes.Facets;

/// <summary>Evenly spaced frequencies at which an echo is computed.</summary>
/// <param name="LowestHertz">The first frequency, above 0. [Hz]</param>
/// <param name="StepHertz">The spacing, above 0 (unused for a single frequency). [Hz]</param>
/// <param name="Count">How many, at least 1.</param>
public sealed record FrequencyBand(double LowestHertz, double StepHertz, int Count)
{
    /// <summary>Gets the first frequency. [Hz]</summary>
    public double LowestHertz { get; } = LowestHertz > 0 && double.IsFinite(LowestHertz)
        ? LowestHertz
        : throw new ArgumentOutOfRangeException(nameof(LowestHertz), $"The lowest frequency is {LowestHertz} Hz; it must be above 0.");

    /// <summary>Gets the spacing. [Hz]</summary>
    public double StepHertz { get; } = StepHertz > 0 && double.IsFinite(StepHertz)
        ? StepHertz
        : throw new ArgumentOutOfRangeException(nameof(StepHertz), $"The frequency step is {StepHertz} Hz; it must be above 0.");

    /// <summary>Gets the number of frequencies.</summary>
    public int Count { get; } = Count >= 1
        ? Count
        : throw new ArgumentOutOfRangeException(nameof(Count), $"The number of frequencies is {Count}; it must be at least 1.");

    /// <summary>Gets the last frequency. [Hz]</summary>
    public double HighestHertz => LowestHertz + ((Count - 1) * StepHertz);

    /// <summary>Gets the middle of the band. [Hz]</summary>
    public double CentreHertz => 0.5 * (LowestHertz + HighestHertz);

    /// <summary>Makes a band of a single frequency.</summary>
    /// <param name="hertz">The frequency, above 0. [Hz]</param>
    public static FrequencyBand Single(double hertz) => new(hertz, 1.0, 1);

    /// <summary>Makes a band from its two ends.</summary>
    /// <param name="lowestHertz">The first frequency. [Hz]</param>
    /// <param name="highestHertz">The last frequency, above the first. [Hz]</param>
    /// <param name="count">How many, at least 2.</param>
    /// <exception cref="ArgumentOutOfRangeException">Fewer than two frequencies, or the ends are not in order.</exception>
    public static FrequencyBand Between(double lowestHertz, double highestHertz, int count) => count >= 2
        ? new(lowestHertz, (highestHertz - lowestHertz) / (count - 1), count)
        : throw new ArgumentOutOfRangeException(nameof(count), $"The number of frequencies is {count}; a band needs at least 2.");

    /// <summary>Returns one of the frequencies. [Hz]</summary>
    /// <param name="index">From 0 to <see cref="Count"/> − 1.</param>
    public double Hertz(int index) => LowestHertz + (index * StepHertz);
}
