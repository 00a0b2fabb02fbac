namespace SonarGeom.Quantities;

/// <summary>A plane angle. Positive senses are stated where an angle is used.</summary>
public readonly record struct Angle : IComparable<Angle>
{
    private Angle(double radians) => Radians = radians;

    /// <summary>The angle of zero.</summary>
    public static Angle Zero => default;

    /// <summary>Gets the angle. [rad]</summary>
    public double Radians { get; }

    /// <summary>Gets the angle. [°]</summary>
    public double Degrees => Radians * (180.0 / Math.PI);

    /// <summary>Makes an angle from radians.</summary>
    /// <param name="radians">The angle; must be finite. [rad]</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="radians"/> is not finite.</exception>
    public static Angle FromRadians(double radians) => new(Finite.Or(radians, nameof(radians)));

    /// <summary>Makes an angle from degrees.</summary>
    /// <param name="degrees">The angle; must be finite. [°]</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="degrees"/> is not finite.</exception>
    public static Angle FromDegrees(double degrees) => new(Finite.Or(degrees, nameof(degrees)) * (Math.PI / 180.0));

    /// <summary>The sum of two angles.</summary>
    public static Angle operator +(Angle left, Angle right) => new(left.Radians + right.Radians);

    /// <summary>The difference of two angles.</summary>
    public static Angle operator -(Angle left, Angle right) => new(left.Radians - right.Radians);

    /// <summary>The angle of opposite sense.</summary>
    public static Angle operator -(Angle angle) => new(-angle.Radians);

    /// <summary>The angle times a number.</summary>
    public static Angle operator *(double factor, Angle angle) => new(factor * angle.Radians);

    /// <summary>Whether one angle is smaller than another.</summary>
    public static bool operator <(Angle left, Angle right) => left.Radians < right.Radians;

    /// <summary>Whether one angle is larger than another.</summary>
    public static bool operator >(Angle left, Angle right) => left.Radians > right.Radians;

    /// <summary>Whether one angle is at most another.</summary>
    public static bool operator <=(Angle left, Angle right) => left.Radians <= right.Radians;

    /// <summary>Whether one angle is at least another.</summary>
    public static bool operator >=(Angle left, Angle right) => left.Radians >= right.Radians;

    /// <inheritdoc/>
    public int CompareTo(Angle other) => Radians.CompareTo(other.Radians);

    /// <summary>Writes the angle in degrees with its unit.</summary>
    public override string ToString() => $"{Degrees:0.###}°";
}
