using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace SonarGeom.Geometry.Rays;

/// <summary>One analytic primitive in the memory of a search tree, in double precision and in the frame of the scene.</summary>
[StructLayout(LayoutKind.Explicit, Size = 128)]
internal struct SolidRecord
{
    [FieldOffset(0)]
    private RoundShape _round;

    [FieldOffset(0)]
    private BoxRecord _box;

    [FieldOffset(120)]
    private int _slot;

    [FieldOffset(124)]
    private bool _isRound;

    /// <summary>Gets the slot of the primitive.</summary>
    public readonly int Slot => _slot;

    public static SolidRecord Of(PrimitiveSet primitives, int number, int slot)
    {
        SolidRecord record = default;
        if (primitives.RoundOf(number) is RoundShape round)
        {
            record._round = round;
            record._isRound = true;
        }
        else
        {
            record._box = new BoxRecord(primitives.BoxOf(number));
        }

        record._slot = slot;
        return record;
    }

    /// <summary>Returns the distance to the surface, from a distance on; not a number if there is none. [m]</summary>
    public readonly double FirstFrom(double nearMetres, Vec3 origin, Vec3 direction) => _isRound
        ? _round.FirstFrom(nearMetres, origin.X, origin.Y, origin.Z, direction.X, direction.Y, direction.Z)
        : _box.FirstFrom(nearMetres, origin.X, origin.Y, origin.Z, direction.X, direction.Y, direction.Z);

    /// <summary>The same for a ray alone, whose reference to the primitive tells whether it is round.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly double FirstFrom(in PreparedRay ray, bool isRound)
    {
        double near = ray.Near + ray.Moved;
        double distance = isRound
            ? _round.FirstFrom(near, ray.SceneX, ray.SceneY, ray.SceneZ, ray.DirectionX, ray.DirectionY, ray.DirectionZ)
            : _box.FirstFrom(near, ray.SceneX, ray.SceneY, ray.SceneZ, ray.DirectionX, ray.DirectionY, ray.DirectionZ);
        return distance - ray.Moved;
    }
}
