namespace SonarGeom.Bodies.Surfaces;

/// <summary>A level cut of a lofted surface: a superellipse whose front and back halves may differ in depth.</summary>
/// <param name="Height">Along the axis of the loft. [m]</param>
/// <param name="Middle">Where along the front-back axis the widest place lies. [m]</param>
/// <param name="Front">From there to the front. [m]</param>
/// <param name="Back">From there to the back. [m]</param>
/// <param name="Side">Middle of the cut along the left-right axis. [m]</param>
/// <param name="HalfBreadth">Half the breadth. [m]</param>
/// <param name="Exponent">Of the superellipse: 2 is an ellipse, above it squarer.</param>
internal readonly record struct Section(
    double Height, double Middle, double Front, double Back, double Side, double HalfBreadth, double Exponent = 2)
{
    /// <summary>Returns a round cut.</summary>
    internal static Section Round(double height, double middle, double side, double radius) =>
        new(height, middle, radius, radius, side, radius);

    /// <summary>Returns the cut with all its half axes multiplied.</summary>
    internal Section Shrunk(double factor, double height) =>
        this with { Height = height, Front = factor * Front, Back = factor * Back, HalfBreadth = factor * HalfBreadth };

    internal double[] ToArray() => [Middle, Front, Back, Side, HalfBreadth, Exponent];

    internal static Section FromArray(double height, double[] v) => new(height, v[0], v[1], v[2], v[3], v[4], v[5]);
}
