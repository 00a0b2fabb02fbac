namespace SonarGeom.Quantities;

/// <summary>A frequency of sound.</summary>
public readonly record struct Frequency : IComparable<Frequency>
{
    private Frequency(double hertz) => Hertz = hertz;

    /// <summary>Gets the frequency. [Hz]</summary>
    public double Hertz { get; }

    /// <summary>Gets the frequency. [kHz]</summary>
    public double Kilohertz => Hertz * 1e-3;

    /// <summary>Makes a frequency from hertz.</summary>
    /// <param name="hertz">Above 0. [Hz]</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite or not above 0.</exception>
    public static Frequency FromHertz(double hertz) =>
        new(hertz > 0 ? Finite.Or(hertz, nameof(hertz)) : throw new ArgumentOutOfRangeException(nameof(hertz), $"hertz is {hertz}; it must be above 0."));

    /// <summary>Makes a frequency from kilohertz.</summary>
    /// <param name="kilohertz">Above 0. [kHz]</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite or not above 0.</exception>
    public static Frequency FromKilohertz(double kilohertz) => FromHertz(kilohertz * 1e3);

    /// <summary>Whether one frequency is below another.</summary>
    public static bool operator <(Frequency left, Frequency right) => left.Hertz < right.Hertz;

    /// <summary>Whether one frequency is above another.</summary>
    public static bool operator >(Frequency left, Frequency right) => left.Hertz > right.Hertz;

    /// <summary>Whether one frequency is at most another.</summary>
    public static bool operator <=(Frequency left, Frequency right) => left.Hertz <= right.Hertz;

    /// <summary>Whether one frequency is at least another.</summary>
    public static bool operator >=(Frequency left, Frequency right) => left.Hertz >= right.Hertz;

    /// <inheritdoc/>
    public int CompareTo(Frequency other) => Hertz.CompareTo(other.Hertz);

    /// <summary>Writes the frequency in kilohertz with its unit.</summary>
    public override string ToString() => $"{Kilohertz:0.###} kHz";
}
