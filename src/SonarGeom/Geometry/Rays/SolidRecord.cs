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
    private BoxShape _box;

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
            record._box = primitives.BoxOf(number);
        }

        record._slot = slot;
        return record;
    }

    /// <summary>Returns the distance to the surface, from a distance on; not a number if there is none. [m]</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    public readonly double FirstFrom(double nearMetres, Vec3 origin, Vec3 direction) =>
        _isRound ? _round.FirstFrom(nearMetres, origin, direction) : _box.ChordOf(origin, direction).FirstFrom(nearMetres);
}
