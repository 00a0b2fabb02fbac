using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Bodies;

/// <summary>Finds the mounting sites by casting from inside each part to its surface.</summary>
internal static class BodySites
{
    internal static ImmutableArray<Site> Of(Body body)
    {
        Skeleton s = body.Skeleton;
        BodyDimensions d = s.Dimensions;
        var sites = ImmutableArray.CreateBuilder<Site>();
        double eye = s.Height(BodyMeasure.EyeHeight);
        double aboveEye = d[BodyMeasure.EyeToVertex];
        double headLength = d[BodyMeasure.HeadLength];
        double headBreadth = d[BodyMeasure.HeadBreadth];
        double notch = s.Height(BodyMeasure.SuprasternaleHeight);
        double navel = s.Height(BodyMeasure.WaistHeight);
        double trunk = notch - navel;
        double chest = s.Height(BodyMeasure.ChestHeight);
        double chestBreadth = d[BodyMeasure.ChestBreadth];
        double acromion = s.Height(BodyMeasure.AcromialHeight);
        double shoulder = d[BodyMeasure.BiacromialBreadth] / 2;
        double belt = navel - (0.25 * (navel - s.Height(BodyMeasure.TrochanterionHeight)));
        Vec3 ahead = Vec3.UnitX;
        Vec3 left = Vec3.UnitY;

        Middle("crown", SegmentId.Head, new Vec3(s.HeadAhead, 0, eye), Vec3.UnitZ, "top of the head");
        Middle("brow", SegmentId.Head, new Vec3(s.HeadAhead, 0, eye + (0.42 * aboveEye)), ahead, "middle of the forehead, above the brows");
        Middle("spectacles bridge", SegmentId.Head, new Vec3(s.HeadAhead, 0, eye), ahead, "bridge of the nose, where a spectacle frame rests");
        Pair("spectacles", SegmentId.Head, new Vec3(s.HeadAhead, 0.28 * headBreadth, eye), ahead, "front of a spectacle frame before the eye; the frame itself stands about 15 mm ahead");
        Pair("temple", SegmentId.Head, new Vec3(s.HeadAhead + (0.22 * headLength), 0, eye + (0.1 * aboveEye)), left, "side of the head behind the eye");
        Pair("ear", SegmentId.Head, new Vec3(s.HeadAhead - (0.07 * headLength), 0, s.Height(BodyMeasure.TragionHeight)), left, "outside of the ear");
        Middle("neck pendant", SegmentId.Thorax, new Vec3(0, 0, notch - (0.20 * trunk)), ahead, "upper chest, a pendant on a neck cord");
        Pair("shoulder top", SegmentId.Thorax, new Vec3(0.8 * s.NeckAhead, 0.66 * shoulder, acromion - (0.9 * s.UpperArmRadius)), Vec3.UnitZ, "top of the shoulder, on a strap");
        Pair("shoulder", SegmentId.Thorax, new Vec3(0.5 * s.NeckAhead, 0.72 * shoulder, acromion - (0.9 * s.UpperArmRadius)), ahead, "front of the shoulder, on a strap");
        Middle("sternum", SegmentId.Thorax, new Vec3(0, 0, notch - (0.33 * trunk)), ahead, "middle of the breastbone, a chest strap");
        Pair("chest", SegmentId.Thorax, new Vec3(0, 0.27 * chestBreadth, chest), ahead, "chest, half way from the breastbone to the side");
        Middle("back", SegmentId.Thorax, new Vec3(0, 0, chest), -ahead, "middle of the back at chest height");
        Vec3 arm = 0.55 * (s[SegmentId.UpperArmLeft] + s[SegmentId.ForearmLeft]) - (0.1 * s[SegmentId.ForearmLeft]);
        Pair("upper arm", SegmentId.UpperArmLeft, arm, left, "outside of the upper arm");
        Middle("belt front", SegmentId.Pelvis, new Vec3(0, 0, belt), ahead, "belt, at the buckle");
        Pair("belt front left", SegmentId.Pelvis, new Vec3(0, 0, belt), (ahead + left).Normalized(), "belt, half way from the buckle to the side");
        Pair("belt left", SegmentId.Pelvis, new Vec3(0, 0, belt), left, "belt, at the side");
        Middle("belt back", SegmentId.Pelvis, new Vec3(0, 0, belt), -ahead, "belt, at the back");
        Vec3 wrist = (0.88 * s[SegmentId.HandLeft]) + (0.12 * s[SegmentId.ForearmLeft]);
        Pair("wrist", SegmentId.ForearmLeft, wrist, left, "back of the wrist, as a watch is worn");
        Vec3 thigh = 0.5 * (s[SegmentId.ThighLeft] + s[SegmentId.ShankLeft]);
        Pair("thigh", SegmentId.ThighLeft, thigh, ahead, "front of the thigh, half way down");
        Pair("knee", SegmentId.ShankLeft, new Vec3(s[SegmentId.ShankLeft].X, s[SegmentId.ShankLeft].Y, s.Height(BodyMeasure.TibialHeight)), ahead, "just under the kneecap");
        Vec3 shin = 0.5 * (s[SegmentId.ShankLeft] + s[SegmentId.FootLeft]);
        Pair("shin", SegmentId.ShankLeft, shin, ahead, "front of the shin, half way down");
        Vec3 ankle = s[SegmentId.FootLeft];
        Pair("shoe toe", SegmentId.FootLeft, new Vec3(ankle.X, ankle.Y, 0.55 * (s.FootwearMetres + (0.4 * d[BodyMeasure.AnkleHeight]))), ahead, "front of the shoe");
        if (body.Poses.HasCane)
        {
            double cane = body.Poses.CaneLengthMetres;
            OnCane("cane grip", 0.16, "cane, just below the grip");
            OnCane("cane shaft upper", 0.35 * cane, "cane shaft, a third of the way down");
            OnCane("cane shaft lower", 0.70 * cane, "cane shaft, two thirds of the way down");
        }

        return sites.ToImmutable();

        void Middle(string name, SegmentId segment, Vec3 from, Vec3 direction, string description)
        {
            (Vec3 at, Vec3 normal) = SurfacePoint.Outermost(body.Segment(segment).Surface, from - s[segment], direction);
            sites.Add(new Site(name, segment, at, normal, description));
        }

        void Pair(string name, SegmentId segment, Vec3 from, Vec3 direction, string description)
        {
            (Vec3 at, Vec3 normal) = SurfacePoint.Outermost(body.Segment(segment).Surface, from - s[segment], direction);
            string stem = name.EndsWith(" left", StringComparison.Ordinal) ? name[..^5] : name;
            sites.Add(new Site(stem + " left", segment, at, normal, description));
            sites.Add(new Site(
                stem + " right", Segments.Mirrored(segment), at.MirroredLeftRight(), normal.MirroredLeftRight(), description));
        }

        // The shaft lies along X with its upper face towards Z: when it slants to the ground, that face looks ahead and up.
        void OnCane(string name, double along, string description)
        {
            (Vec3 at, Vec3 normal) = SurfacePoint.Outermost(body.Segment(SegmentId.Cane).Surface, new Vec3(along, 0, 0), Vec3.UnitZ);
            sites.Add(new Site(name, SegmentId.Cane, at, normal, description));
        }
    }
}
