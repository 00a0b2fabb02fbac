namespace SonarGeom.Quantities;

/// <summary>A thermodynamic temperature.</summary>
public readonly record struct Temperature : IComparable<Temperature>
{
    /// <summary>0 °C in kelvins, exact by definition of the Celsius scale.</summary>
    public const double ZeroCelsiusInKelvins = 273.15;

    private Temperature(double kelvins) => Kelvins = kelvins;

    /// <summary>Gets the temperature. [K]</summary>
    public double Kelvins { get; }

    /// <summary>Gets the temperature. [°C]</summary>
    public double DegreesCelsius => Kelvins - ZeroCelsiusInKelvins;

    /// <summary>Makes a temperature from degrees Celsius.</summary>
    /// <param name="degreesCelsius">At least −273.15. [°C]</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite or below absolute zero.</exception>
    public static Temperature FromDegreesCelsius(double degreesCelsius) =>
        new(Finite.Within(degreesCelsius, -ZeroCelsiusInKelvins, 1e6, nameof(degreesCelsius), "°C") + ZeroCelsiusInKelvins);

    /// <summary>Makes a temperature from kelvins.</summary>
    /// <param name="kelvins">At least 0. [K]</param>
    /// <exception cref="ArgumentOutOfRangeException">The value is not finite or negative.</exception>
    public static Temperature FromKelvins(double kelvins) => new(Finite.Within(kelvins, 0, 1e6, nameof(kelvins), "K"));

    /// <summary>Whether one temperature is below another.</summary>
    public static bool operator <(Temperature left, Temperature right) => left.Kelvins < right.Kelvins;

    /// <summary>Whether one temperature is above another.</summary>
    public static bool operator >(Temperature left, Temperature right) => left.Kelvins > right.Kelvins;

    /// <summary>Whether one temperature is at most another.</summary>
    public static bool operator <=(Temperature left, Temperature right) => left.Kelvins <= right.Kelvins;

    /// <summary>Whether one temperature is at least another.</summary>
    public static bool operator >=(Temperature left, Temperature right) => left.Kelvins >= right.Kelvins;

    /// <inheritdoc/>
    public int CompareTo(Temperature other) => Kelvins.CompareTo(other.Kelvins);

    /// <summary>Writes the temperature in degrees Celsius with its unit.</summary>
    public override string ToString() => $"{DegreesCelsius:0.##} °C";
}
