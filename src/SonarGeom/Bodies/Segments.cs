using System.Collections.Immutable;

namespace SonarGeom.Bodies;

/// <summary>How the parts of a body hang together.</summary>
public static class Segments
{
    /// <summary>Number of values of <see cref="SegmentId"/>.</summary>
    public const int Count = (int)SegmentId.Seat + 1;

    /// <summary>Gets all parts, in the order of <see cref="SegmentId"/>.</summary>
    public static ImmutableArray<SegmentId> All { get; } = [.. Enum.GetValues<SegmentId>()];

    /// <summary>Returns the part of the other side; parts of the midline, the cane and the wheelchair return themselves.</summary>
    /// <param name="segment">A part.</param>
    public static SegmentId Mirrored(SegmentId segment) =>
        segment is >= SegmentId.UpperArmLeft and <= SegmentId.FootRight
            ? SegmentId.UpperArmLeft + (((int)segment - (int)SegmentId.UpperArmLeft) ^ 1)
            : segment;

    /// <summary>Returns the part on which a part moves, or null for the pelvis, the cane and the wheelchair.</summary>
    /// <param name="segment">A part.</param>
    public static SegmentId? Parent(SegmentId segment) => segment switch
    {
        SegmentId.Head => SegmentId.Neck,
        SegmentId.Neck => SegmentId.Thorax,
        SegmentId.Thorax => SegmentId.Pelvis,
        SegmentId.UpperArmLeft or SegmentId.UpperArmRight => SegmentId.Thorax,
        SegmentId.ForearmLeft or SegmentId.ForearmRight or SegmentId.HandLeft or SegmentId.HandRight => segment - 2,
        SegmentId.ThighLeft or SegmentId.ThighRight => SegmentId.Pelvis,
        SegmentId.ShankLeft or SegmentId.ShankRight or SegmentId.FootLeft or SegmentId.FootRight => segment - 2,
        _ => null,
    };

    /// <summary>Returns the part of a pair that lies on one side.</summary>
    /// <param name="left">The left part of the pair.</param>
    /// <param name="side">The side wanted.</param>
    internal static SegmentId OnSide(SegmentId left, BodySide side) => side == BodySide.Left ? left : left + 1;
}
