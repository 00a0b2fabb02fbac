using SonarGeom.Geometry;

namespace SonarGeom.Bodies.Surfaces;

/// <summary>The head: an ellipsoid above the brow, narrowing to the chin below, with a nose and ears. Length, breadth and height are
/// the tabled ones; the shape between is drawn by eye.</summary>
internal static class HeadSurface
{
    private const int Around = 24;
    private const int FaceRings = 12;
    private const int DomeRings = 6;

    // Height of the greatest cut between chin and crown.
    private const double BrowShare = 0.64;

    internal static TriangleMesh Head(Skeleton s)
    {
        BodyDimensions d = s.Dimensions;
        double length = d[BodyMeasure.HeadLength] / 2;
        double breadth = d[BodyMeasure.HeadBreadth] / 2;
        double chin = s.Height(BodyMeasure.ChinHeight);
        double crown = s.Height(BodyMeasure.Stature);
        double tall = crown - chin;

        Section Cut(double share, double side, double front, double back, double exponent) =>
            new(chin + (share * tall), s.HeadAhead + (0.5 * (front - back) * length), 0.5 * (front + back) * length, 0.5 * (front + back) * length, 0, side * breadth, exponent);

        Section[] face =
        [
            Cut(0.035, 0.44, 0.86, -0.16, 2.3),
            Cut(0.10, 0.62, 0.92, -0.02, 2.3),
            Cut(0.20, 0.75, 0.93, 0.22, 2.2),
            Cut(0.33, 0.86, 0.93, 0.66, 2.1),
            Cut(0.45, 0.93, 0.95, 0.90, 2.1),
            Cut(0.55, 0.98, 0.97, 0.98, 2.1),
            Cut(BrowShare, 1, 1, 1, 2.1),
        ];
        List<Section> cuts =
        [
            face[0].Shrunk(0.55, chin + (0.008 * tall)),
            .. Enumerable.Range(0, FaceRings).Select(i =>
                Loft.At(face, face[0].Height + ((face[^1].Height - face[0].Height) * i / (FaceRings - 1)))),
        ];
        double dome = crown - face[^1].Height;
        for (int i = 1; i < DomeRings; i++)
        {
            (double sine, double cosine) = Math.SinCos(0.5 * Math.PI * i / DomeRings);
            cuts.Add(face[^1].Shrunk(Math.Pow(cosine, 0.9), face[^1].Height + (dome * sine)));
        }

        TriangleMesh smooth = Loft.Exactly(
            cuts,
            Around,
            new Vec3(face[0].Middle, 0, chin),
            new Vec3(s.HeadAhead, 0, crown));
        double ear = d.IsChild ? 0.016 : d[BodyMeasure.EarProtrusion];
        return smooth with { Vertices = [.. smooth.Vertices.Select(v => v + Feature(v, s, chin, tall, length, breadth, ear))] };
    }

    // The nose on the foremost line of vertices, the ears behind the widest.
    private static Vec3 Feature(Vec3 v, Skeleton s, double chin, double tall, double length, double breadth, double ear)
    {
        double up = (v.Z - chin) / tall;
        double ahead = (v.X - s.HeadAhead) / length;
        double side = Math.Abs(v.Y) / breadth;
        double nose = ahead > 0 ? 0.10 * tall * Bump(up, 0.27, 0.335, 0.50) * Math.Exp(-Square(side / 0.13)) : 0;
        double lobe = 0.8 * ear * Bump(up, 0.31, 0.46, 0.61) * Math.Exp(-Square((ahead + 0.14) / 0.14)) * (side > 0.5 ? 1 : 0);
        return new Vec3(nose, Math.Sign(v.Y) * lobe, 0);
    }

    private static double Bump(double at, double from, double top, double to) =>
        at <= from || at >= to ? 0 : at < top ? (at - from) / (top - from) : (to - at) / (to - top);

    private static double Square(double x) => x * x;
}
