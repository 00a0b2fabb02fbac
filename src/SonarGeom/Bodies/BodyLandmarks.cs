using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Bodies;

/// <summary>Places the landmarks on the parts that carry them.</summary>
internal static class BodyLandmarks
{
    internal static ImmutableArray<Landmark> Of(Skeleton s, BodyTables tables)
    {
        BodyDimensions d = s.Dimensions;
        var found = ImmutableArray.CreateBuilder<Landmark>();
        double headLength = d[BodyMeasure.HeadLength];
        double chestDepth = d[BodyMeasure.ChestDepth];
        double shoulder = d[BodyMeasure.BiacromialBreadth] / 2;
        double hip = d[BodyMeasure.HipBreadth] / 2;
        double footLength = d[BodyMeasure.FootLength];
        double navel = s.Height(BodyMeasure.WaistHeight);
        double notch = s.Height(BodyMeasure.SuprasternaleHeight);
        double sternumBase = notch - (tables.Assumed("sternum_base_share") * (notch - navel));
        double midShin = 0.5 * (s.Height(BodyMeasure.KneeJointHeight) + s.Height(BodyMeasure.AnkleHeight));
        double shinError = 0.5 * (Error(BodyMeasure.KneeJointHeight) + Error(BodyMeasure.AnkleHeight));

        Middle("crown", SegmentId.Head, s.HeadAhead, BodyMeasure.Stature, "highest point of the erect head");
        Middle("eye", SegmentId.Head, s.HeadAhead + (0.42 * headLength), BodyMeasure.EyeHeight, "midway between the outer corners of the eyes");
        Pair("tragion", SegmentId.Head, s.HeadAhead - (0.05 * headLength), d[BodyMeasure.HeadBreadth] / 2, BodyMeasure.TragionHeight, "notch above the ear canal");
        Middle("chin", SegmentId.Head, s.HeadAhead + (0.36 * headLength), BodyMeasure.ChinHeight, "lowest point of the chin");
        Middle("cervicale", SegmentId.Thorax, s.NeckAhead - s.NeckRadius, BodyMeasure.CervicaleHeight, "spine of the lowest neck vertebra");
        Pair("acromion", SegmentId.Thorax, s[SegmentId.UpperArmLeft].X, shoulder, BodyMeasure.AcromialHeight, "outer end of the shoulder blade's ridge");
        Middle("sternum top", SegmentId.Thorax, 0.26 * chestDepth, BodyMeasure.SuprasternaleHeight, "notch at the top of the breastbone");
        Pair("axilla", SegmentId.Thorax, 0, d[BodyMeasure.ChestBreadth] / 2, BodyMeasure.AxillaHeight, "front fold of the armpit");
        Middle("chest", SegmentId.Thorax, chestDepth / 2, BodyMeasure.ChestHeight, "level of the nipples");
        At("sternum base", SegmentId.Thorax, new Vec3(0.49 * chestDepth, 0, sternumBase), tables.Assumed("sternum_base_error"), "lower end of the breastbone; derived, see the assumptions");
        Middle("tenth rib", SegmentId.Thorax, 0.5 * d[BodyMeasure.WaistDepth], BodyMeasure.TenthRibHeight, "level of the lowest rib at the side");
        Middle("navel", SegmentId.Pelvis, 0.56 * d[BodyMeasure.WaistDepth], BodyMeasure.WaistHeight, "middle of the navel: where thorax and pelvis part");
        Pair("iliac crest", SegmentId.Pelvis, 0, 0.9 * hip, BodyMeasure.IliocristaleHeight, "top of the hip bone");
        Pair("trochanter", SegmentId.Pelvis, 0, hip, BodyMeasure.TrochanterionHeight, "outer end of the hip");
        Middle("crotch", SegmentId.Pelvis, 0, BodyMeasure.CrotchHeight, "lowest point of the trunk");
        Joint("elbow", SegmentId.ForearmLeft, BodyMeasure.ElbowHeight, "elbow joint");
        Joint("wrist", SegmentId.HandLeft, BodyMeasure.WristHeight, "wrist joint");
        Vec3 wrist = s[SegmentId.HandLeft];
        Both("fingertip", SegmentId.HandLeft, new Vec3(wrist.X, wrist.Y, s.Height(BodyMeasure.FingertipHeight)), Error(BodyMeasure.FingertipHeight), "tip of the middle finger, arm hanging");
        Vec3 knee = s[SegmentId.ShankLeft];
        Both("kneecap", SegmentId.ShankLeft, new Vec3(knee.X + (d[BodyMeasure.LowerThighGirth] / (2 * Math.PI)), knee.Y, s.Height(BodyMeasure.KneecapHeight)), Error(BodyMeasure.KneecapHeight), "middle of the kneecap");
        Joint("knee", SegmentId.ShankLeft, BodyMeasure.KneeJointHeight, "knee joint");
        Vec3 ankle = s[SegmentId.FootLeft];
        Both("mid shin", SegmentId.ShankLeft, new Vec3(0.5 * (knee.X + ankle.X), knee.Y, midShin), shinError, "midway between knee joint and ankle");
        Joint("ankle", SegmentId.FootLeft, BodyMeasure.AnkleHeight, "outer ankle bone");
        Both("toe", SegmentId.FootLeft, new Vec3(ankle.X + (0.75 * footLength), ankle.Y, s.FootwearMetres), Error(BodyMeasure.FootLength), "tip of the longest toe");
        return found.ToImmutable();

        double Error(BodyMeasure measure) => d.Estimate(measure).StandardError;

        void At(string name, SegmentId segment, Vec3 at, double error, string definition) =>
            found.Add(new Landmark(name, segment, at - s[segment], error, definition));

        void Middle(string name, SegmentId segment, double ahead, BodyMeasure height, string definition) =>
            At(name, segment, new Vec3(ahead, 0, s.Height(height)), Error(height), definition);

        void Both(string name, SegmentId left, Vec3 at, double error, string definition)
        {
            At(name + " left", left, at, error, definition);
            At(name + " right", Segments.Mirrored(left), at.MirroredLeftRight(), error, definition);
        }

        void Pair(string name, SegmentId segment, double ahead, double side, BodyMeasure height, string definition) =>
            Both(name, segment, new Vec3(ahead, side, s.Height(height)), Error(height), definition);

        void Joint(string name, SegmentId left, BodyMeasure height, string definition) =>
            Both(name, left, s[left], Error(height), definition);
    }
}
