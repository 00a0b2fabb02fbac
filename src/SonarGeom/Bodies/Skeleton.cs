using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Bodies;

/// <summary>Where the joints of a wearer lie in the design attitude: standing erect in shoes, arms hanging, every part's frame
/// parallel to the world. Heights come from the tables; how far ahead each joint lies is drawn by eye.</summary>
internal sealed class Skeleton
{
    // Relaxed arms hang this far out from the hips; elbow to elbow is then about as broad as the survey has it, seated (0.58 m of men).
    private const double ArmClearanceMetres = 0.025;

    private readonly Vec3[] _joints = new Vec3[Segments.Count];

    internal Skeleton(BodyDimensions dimensions, double footwearMetres, BodyTables tables)
    {
        Dimensions = dimensions;
        FootwearMetres = footwearMetres;
        double arm = dimensions.IsChild ? 1 : tables.Assumed("hanging_arm_share");
        UpperArmRadius = arm * dimensions[BodyMeasure.UpperArmGirth] / (2 * Math.PI);
        ForearmRadius = arm * dimensions[BodyMeasure.ForearmGirth] / (2 * Math.PI);
        WristRadius = dimensions[BodyMeasure.WristGirth] / (2 * Math.PI);
        NeckRadius = dimensions[BodyMeasure.NeckGirth] / (2 * Math.PI);

        double chestDepth = dimensions[BodyMeasure.ChestDepth];
        double footLength = dimensions[BodyMeasure.FootLength];
        double hipBreadth = dimensions[BodyMeasure.HipBreadth];
        HipSide = tables.Assumed("hip_joint_spacing_share") * hipBreadth / 2;
        NeckAhead = -0.16 * chestDepth;
        HeadAhead = 0.05 * dimensions[BodyMeasure.HeadLength];

        double shoulderSide = (dimensions[BodyMeasure.BideltoidBreadth] / 2) - UpperArmRadius;
        HandHalfThickness = 0.17 * dimensions[BodyMeasure.HandBreadth];

        double trunkHalf = Math.Max(hipBreadth, dimensions[BodyMeasure.WaistBreadth]) / 2;
        double elbowSide = Math.Max(shoulderSide, trunkHalf + ForearmRadius + ArmClearanceMetres);
        double wristSide = Math.Max(elbowSide - 0.01, (hipBreadth / 2) + HandHalfThickness + 0.012);

        Set(SegmentId.Pelvis, new Vec3(0, 0, Height(BodyMeasure.TrochanterionHeight)));
        Set(SegmentId.Thorax, new Vec3(-0.12 * dimensions[BodyMeasure.WaistDepth], 0, Height(BodyMeasure.WaistHeight)));
        Set(SegmentId.Neck, new Vec3(NeckAhead, 0, Height(BodyMeasure.CervicaleHeight) - (0.4 * NeckRadius)));
        Set(SegmentId.Head, new Vec3(HeadAhead - 0.01, 0, Height(BodyMeasure.TragionHeight) - 0.015));
        SetPair(SegmentId.UpperArmLeft, new Vec3(-0.01, shoulderSide, Height(BodyMeasure.AcromialHeight) - (0.9 * UpperArmRadius)));
        SetPair(SegmentId.ForearmLeft, new Vec3(-0.015, elbowSide, Height(BodyMeasure.ElbowHeight)));
        SetPair(SegmentId.HandLeft, new Vec3(0, wristSide, Height(BodyMeasure.WristHeight)));
        SetPair(SegmentId.ThighLeft, new Vec3(0, HipSide, Height(BodyMeasure.TrochanterionHeight)));
        SetPair(SegmentId.ShankLeft, new Vec3(-0.05 * footLength, HipSide, Height(BodyMeasure.KneeJointHeight)));
        SetPair(SegmentId.FootLeft, new Vec3(-0.15 * footLength, HipSide, Height(BodyMeasure.AnkleHeight)));
    }

    internal BodyDimensions Dimensions { get; }

    internal double FootwearMetres { get; }

    internal double UpperArmRadius { get; }

    internal double ForearmRadius { get; }

    internal double WristRadius { get; }

    internal double NeckRadius { get; }

    internal double HipSide { get; }

    internal double NeckAhead { get; }

    internal double HeadAhead { get; }

    internal double HandHalfThickness { get; }

    /// <summary>Gets where a hand holds a grip: the middle of the left palm.</summary>
    internal Vec3 GripLeft => this[SegmentId.HandLeft] - (0.45 * Dimensions[BodyMeasure.HandLength] * Vec3.UnitZ);

    /// <summary>Gets a joint: the origin of a part's frame.</summary>
    internal Vec3 this[SegmentId segment] => _joints[(int)segment];

    /// <summary>Returns a tabled height above the ground, in shoes. [m]</summary>
    internal double Height(BodyMeasure measure) => Dimensions[measure] + FootwearMetres;

    /// <summary>Returns where the parts are when each is turned by a rotation from the design attitude.</summary>
    /// <param name="pelvis">Position of the middle of the pelvis. [m]</param>
    /// <param name="thoraxDrop">How far the thorax sinks onto the pelvis. [m]</param>
    /// <param name="rotations">World-from-segment rotation of each part.</param>
    internal ImmutableArray<RigidTransform> Place(Vec3 pelvis, double thoraxDrop, ImmutableArray<Rotation> rotations)
    {
        var placed = new RigidTransform[Segments.Count];
        Array.Fill(placed, RigidTransform.Identity);
        placed[(int)SegmentId.Pelvis] = new RigidTransform(rotations[(int)SegmentId.Pelvis], pelvis);
        PlaceOn(SegmentId.Thorax);
        Vec3 sunk = placed[(int)SegmentId.Thorax].Translation - (thoraxDrop * Vec3.UnitZ);
        placed[(int)SegmentId.Thorax] = placed[(int)SegmentId.Thorax] with { Translation = sunk };
        PlaceOn(SegmentId.Neck);
        PlaceOn(SegmentId.Head);
        for (SegmentId s = SegmentId.UpperArmLeft; s <= SegmentId.FootRight; s++)
        {
            PlaceOn(s);
        }

        return [.. placed];

        void PlaceOn(SegmentId segment)
        {
            SegmentId parent = Segments.Parent(segment)!.Value;
            Vec3 at = placed[(int)parent].ApplyToPoint(this[segment] - this[parent]);
            placed[(int)segment] = new RigidTransform(rotations[(int)segment], at);
        }
    }

    private void Set(SegmentId segment, Vec3 at) => _joints[(int)segment] = at;

    private void SetPair(SegmentId left, Vec3 at)
    {
        Set(left, at);
        Set(left + 1, at.MirroredLeftRight());
    }
}
