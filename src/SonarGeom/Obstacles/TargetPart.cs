using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Obstacles;

/// <summary>
/// One surface or line of an obstacle that can return an echo by itself: what the closed forms evaluate. Positions are in the
/// world frame. Immutable.
/// </summary>
/// <param name="Name">What it is, in the reader's words: "riser 2", "rim of the cap".</param>
/// <param name="ReflectionLossDecibels">Loss of the material at one reflection, 0 to 100. [dB]</param>
public abstract record TargetPart(string Name, double ReflectionLossDecibels)
{
    private protected const double LargestMetres = 1000;

    /// <summary>Gets the loss of the material at one reflection. [dB]</summary>
    public double ReflectionLossDecibels { get; init; } =
        Finite.Within(ReflectionLossDecibels, 0, 100, nameof(ReflectionLossDecibels), "dB");

    /// <summary>
    /// Gets the root-mean-square height of the surface. The coherent amplitude falls by <c>exp(−Γ²/2)</c>, <c>Γ = 2kσ sin ψ</c>
    /// (Beckmann and Spizzichino 1963); what is scattered sideways is not counted. [m]
    /// </summary>
    public double RoughnessRmsMetres { get; init; }

    /// <summary>
    /// Gets whether an echo of this part may count as detecting the obstacle. The lip of a step down does not: its echo lies
    /// 35 to 45 dB below that of a wall, depends on how sharp the lip happens to be, and cannot be told from floor texture.
    /// </summary>
    public bool CountsAsDetection { get; init; } = true;

    /// <summary>Gets a point in the middle of the part. [m]</summary>
    public abstract Vec3 Middle { get; }

    /// <summary>Returns the part moved with its world.</summary>
    /// <param name="targetFromSource">The motion.</param>
    public abstract TargetPart Moved(RigidTransform targetFromSource);

    private protected static double Size(double metres, string name) =>
        metres > 0
            ? Finite.Within(metres, 0, LargestMetres, name, "m")
            : throw new ArgumentOutOfRangeException(name, $"{name} is {metres} m; it must be above 0 m.");

    private protected static Vec3 Unit(Vec3 direction, string name) =>
        direction.IsFinite && direction.LengthSquared > 0
            ? direction.Normalized()
            : throw new ArgumentException($"{name} is {direction}; it must be a finite direction.", name);

    private protected static Vec3 Point(Vec3 point, string name) =>
        point.IsFinite ? point : throw new ArgumentException($"{name} is {point}; its components must be finite.", name);

    private protected static Vec3 Apart(Vec3 point, Vec3 other, string name) =>
        Point(point, name).DistanceTo(other) > 1e-6
            ? point
            : throw new ArgumentException($"{name} coincides with the other end; the part must be at least 1e-6 m long.", name);
}
