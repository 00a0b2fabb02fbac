namespace SonarGeom.Geometry.Rays;

/// <summary>A segment of a half line: where it starts, where it points and which part of it counts.</summary>
/// <param name="Origin">Start of the ray. [m]</param>
/// <param name="UnitDirection">Unit direction.</param>
/// <param name="NearMetres">Hits nearer than this are ignored; 0 for none. [m]</param>
/// <param name="FarMetres">Hits farther than this are ignored; may be infinite. [m]</param>
public readonly record struct Ray(Vec3 Origin, Vec3 UnitDirection, double NearMetres, double FarMetres)
{
    /// <summary>Returns the ray from one position to another, ending at the second.</summary>
    /// <param name="from">Start of the ray. [m]</param>
    /// <param name="to">End of the ray, not equal to the start. [m]</param>
    public static Ray Between(Vec3 from, Vec3 to)
    {
        double length = from.DistanceTo(to);
        return new(from, (to - from) / length, 0, length);
    }

    /// <summary>Returns the position at a distance along the ray. [m]</summary>
    /// <param name="distanceMetres">Distance from the origin. [m]</param>
    public Vec3 At(double distanceMetres) => Origin + (distanceMetres * UnitDirection);
}
