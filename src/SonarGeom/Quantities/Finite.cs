namespace SonarGeom.Quantities;

/// <summary>Refuses numbers that are not numbers at the public doors.</summary>
internal static class Finite
{
    /// <summary>Returns the value, or throws when it is NaN or infinite.</summary>
    internal static double Or(double value, string name) =>
        double.IsFinite(value)
            ? value
            : throw new ArgumentOutOfRangeException(name, $"{name} is {value}; it must be a finite number.");

    /// <summary>Returns the value, or throws when it is outside a closed range or not finite.</summary>
    internal static double Within(double value, double low, double high, string name, string unit) =>
        value >= low && value <= high
            ? value
            : throw new ArgumentOutOfRangeException(name, $"{name} is {value} {unit}; it must be from {low} to {high} {unit}.");
}
