namespace SonarGeom.Geometry;

/// <summary>A rotation followed by a displacement. Named target-from-source: <c>worldFromSensor</c>.</summary>
/// <param name="Rotation">The rotation.</param>
/// <param name="Translation">The image of the source origin. [m]</param>
public readonly record struct RigidTransform(Rotation Rotation, Vec3 Translation)
{
    /// <summary>The transform that changes nothing.</summary>
    public static RigidTransform Identity => new(Rotation.Identity, Vec3.Zero);

    /// <summary>Gets the inverse transform.</summary>
    public RigidTransform Inverse => new(Rotation.Inverse, -Rotation.ApplyInverse(Translation));

    /// <summary>The transform <paramref name="left"/> after <paramref name="right"/>.</summary>
    public static RigidTransform operator *(RigidTransform left, RigidTransform right) =>
        new(left.Rotation * right.Rotation, left.ApplyToPoint(right.Translation));

    /// <summary>Returns the image of a position. [m]</summary>
    public Vec3 ApplyToPoint(Vec3 point) => Rotation.Apply(point) + Translation;

    /// <summary>Returns the image of a direction.</summary>
    public Vec3 ApplyToDirection(Vec3 direction) => Rotation.Apply(direction);

    /// <summary>Writes the rotation and the displacement. The inverse is left out: it would write its own inverse without end.</summary>
    public override string ToString() => $"RigidTransform {{ {Rotation}, Translation = {Translation} }}";
}
