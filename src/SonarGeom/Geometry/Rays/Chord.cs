using System.Runtime.CompilerServices;

namespace SonarGeom.Geometry.Rays;

/// <summary>The part of a line inside a convex solid; empty when it enters after it leaves.</summary>
/// <param name="Enter">Where the line enters, along the ray. [m]</param>
/// <param name="Leave">Where the line leaves, along the ray. [m]</param>
internal readonly record struct Chord(double Enter, double Leave)
{
    public static Chord None
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get => new(double.PositiveInfinity, double.NegativeInfinity);
    }

    public static Chord Whole
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        get => new(double.NegativeInfinity, double.PositiveInfinity);
    }

    /// <summary>Returns the part inside both solids.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Chord And(Chord other) => new(double.MaxNative(Enter, other.Enter), double.MinNative(Leave, other.Leave));

    /// <summary>Returns the part inside either solid; they must overlap where the line meets both.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Chord Or(Chord other) => new(double.MinNative(Enter, other.Enter), double.MaxNative(Leave, other.Leave));

    /// <summary>Returns this chord, or none if it enters after it leaves.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public Chord Checked() => Enter <= Leave ? this : None;

    /// <summary>Returns the nearer surface point on the ray, or the farther one if the nearer lies before it, or null.</summary>
    public double? FirstWithin(in Ray ray) => FirstFrom(ray.NearMetres) is var first && first <= ray.FarMetres ? first : null;

    /// <summary>Returns the first surface point from a distance on; not a number if there is none. [m]</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public double FirstFrom(double nearMetres)
    {
        double first = Enter >= nearMetres ? Enter : Leave;
        return Enter <= Leave & first >= nearMetres ? first : double.NaN;
    }
}
