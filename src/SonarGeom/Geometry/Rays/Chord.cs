namespace SonarGeom.Geometry.Rays;

/// <summary>The part of a line inside a convex solid; empty when it enters after it leaves.</summary>
/// <param name="Enter">Where the line enters, along the ray. [m]</param>
/// <param name="Leave">Where the line leaves, along the ray. [m]</param>
internal readonly record struct Chord(double Enter, double Leave)
{
    public static Chord None => new(double.PositiveInfinity, double.NegativeInfinity);

    public static Chord Whole => new(double.NegativeInfinity, double.PositiveInfinity);

    /// <summary>Returns the part inside both solids.</summary>
    public Chord And(Chord other) => new(Math.Max(Enter, other.Enter), Math.Min(Leave, other.Leave));

    /// <summary>Returns the part inside either solid; they must overlap where the line meets both.</summary>
    public Chord Or(Chord other) => new(Math.Min(Enter, other.Enter), Math.Max(Leave, other.Leave));

    /// <summary>Returns this chord, or none if it enters after it leaves.</summary>
    public Chord Checked() => Enter <= Leave ? this : None;

    /// <summary>Returns the nearer surface point on the ray, or the farther one if the nearer lies before it, or null.</summary>
    public double? FirstWithin(in Ray ray)
    {
        if (!(Enter <= Leave))
        {
            return null;
        }

        return Enter >= ray.NearMetres && Enter <= ray.FarMetres ? Enter
            : Leave >= ray.NearMetres && Leave <= ray.FarMetres ? Leave
            : null;
    }
}
