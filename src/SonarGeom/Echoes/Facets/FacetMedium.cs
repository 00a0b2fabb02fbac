namespace SonarGeom.Echoes.Facets;

/// <summary>The air between sensor and facets: one sound speed, and an absorption that varies smoothly over the band.</summary>
/// <remarks>Over the tenth or so of an octave of a burst the absorption is a parabola in frequency through three of its values to
/// better than 0.1 % of itself.</remarks>
public sealed record FacetMedium
{
    private readonly double _centreHertz;
    private readonly double _halfWidthHertz;
    private readonly double _low;
    private readonly double _middle;
    private readonly double _high;

    private FacetMedium(double soundSpeed, double centreHertz, double halfWidthHertz, double low, double middle, double high)
    {
        if (!(soundSpeed > 0) || !double.IsFinite(soundSpeed))
        {
            throw new ArgumentOutOfRangeException(nameof(soundSpeed), $"The sound speed is {soundSpeed} m/s; it must be above 0.");
        }

        SoundSpeedMetresPerSecond = soundSpeed;
        (_centreHertz, _halfWidthHertz) = (centreHertz, halfWidthHertz);
        (_low, _middle, _high) = (low, middle, high);
    }

    /// <summary>Gets the sound speed. [m/s]</summary>
    public double SoundSpeedMetresPerSecond { get; }

    /// <summary>Makes air that absorbs nothing.</summary>
    /// <param name="soundSpeedMetresPerSecond">The sound speed, above 0. [m/s]</param>
    public static FacetMedium Lossless(double soundSpeedMetresPerSecond) => Uniform(soundSpeedMetresPerSecond, 0.0);

    /// <summary>Makes air whose absorption is the same at every frequency.</summary>
    /// <param name="soundSpeedMetresPerSecond">The sound speed, above 0. [m/s]</param>
    /// <param name="absorptionDecibelsPerMetre">The absorption, one way. [dB/m]</param>
    public static FacetMedium Uniform(double soundSpeedMetresPerSecond, double absorptionDecibelsPerMetre) =>
        new(soundSpeedMetresPerSecond, 1.0, 1.0, absorptionDecibelsPerMetre, absorptionDecibelsPerMetre, absorptionDecibelsPerMetre);

    /// <summary>Makes air from an absorption law, sampled at the ends and the middle of a band.</summary>
    /// <param name="soundSpeedMetresPerSecond">The sound speed, above 0. [m/s]</param>
    /// <param name="band">The band in which the law is followed.</param>
    /// <param name="absorptionDecibelsPerMetre">Absorption [dB/m], one way, for a frequency [Hz].</param>
    public static FacetMedium Of(double soundSpeedMetresPerSecond, FrequencyBand band, Func<double, double> absorptionDecibelsPerMetre)
    {
        ArgumentNullException.ThrowIfNull(band);
        ArgumentNullException.ThrowIfNull(absorptionDecibelsPerMetre);
        double half = Math.Max(0.5 * (band.HighestHertz - band.LowestHertz), 0.01 * band.CentreHertz);
        return new(
            soundSpeedMetresPerSecond,
            band.CentreHertz,
            half,
            absorptionDecibelsPerMetre(band.CentreHertz - half),
            absorptionDecibelsPerMetre(band.CentreHertz),
            absorptionDecibelsPerMetre(band.CentreHertz + half));
    }

    /// <summary>Returns the absorption, one way. [dB/m]</summary>
    /// <param name="frequencyHertz">A frequency in or near the band. [Hz]</param>
    public double AbsorptionDecibelsPerMetre(double frequencyHertz)
    {
        double x = (frequencyHertz - _centreHertz) / _halfWidthHertz;
        return _middle + (0.5 * x * (_high - _low)) + (0.5 * x * x * (_high + _low - (2.0 * _middle)));
    }

    /// <summary>Returns the wavenumber. [rad/m]</summary>
    /// <param name="frequencyHertz">The frequency. [Hz]</param>
    public double WavenumberRadiansPerMetre(double frequencyHertz) => 2.0 * Math.PI * frequencyHertz / SoundSpeedMetresPerSecond;

    /// <summary>Returns the amplitude that is left after a path. [unitless]</summary>
    /// <param name="frequencyHertz">The frequency. [Hz]</param>
    /// <param name="pathMetres">Length of the path. [m]</param>
    internal double AbsorbedAmplitude(double frequencyHertz, double pathMetres) =>
        Math.Exp(-NepersPerDecibel * AbsorptionDecibelsPerMetre(frequencyHertz) * pathMetres);

    /// <summary>ln(10)/20: nepers in a decibel.</summary>
    internal const double NepersPerDecibel = 0.11512925464970229;
}
