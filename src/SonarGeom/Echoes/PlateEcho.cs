using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>Flat outlines and endless planes at any attitude: the Kirchhoff integral as a mirror image and a line round the rim.</summary>
/// <remarks>
/// <para>
/// <c>p = χ e^{ikL}/L + (1/4π) ∮ e^{ik(ρ + s)}/(ρ s) · ((ρ × s)·dl)/(ρ s + ρ·s)</c>, with ρ from the transmitter and s from the
/// mirror image of the receiver to the rim, L their distance, χ = 1 when the mirror point lies inside, counter-clockwise about the
/// normal towards the sensor. Maggi 1888, Rubinowicz 1917 (Born and Wolf, Principles of Optics, §8.9), from memory, checked here
/// against quadrature. With transmitter and receiver together it becomes <c>χ e^{2ikR}/(2R) − (R/4π) ∮ e^{2ikr}/r² dφ</c>.
/// Exact for the Kirchhoff surface integral with the obliquity ½(cos θ₁ + cos θ₂).
/// </para>
/// <para>The beams weight the image term at the mirror point and every element of the rim at its own place.</para>
/// </remarks>
internal static class PlateEcho
{
    /// <summary>Mirror points are kept this far from the rim, where the two terms jump and only their sum is smooth. [m]</summary>
    internal const double LeastRimMetres = 1e-5;

    private const double InverseFourPi = 1 / (4 * Math.PI);

    /// <summary>Phase from the mirror path to the least path by way of an edge below which the edge is integrated point by point. [rad]</summary>
    private const double NearRimPhase = 10;

    internal static LaneComplex Plane(in EchoView view, PlanePart part, out EchoPath path)
    {
        double hT = (view.Transmitter - part.PointMetres).Dot(part.Normal);
        double hR = (view.Receiver - part.PointMetres).Dot(part.Normal);
        if (!(hT > 1e-6 && hR > 1e-6))
        {
            path = EchoPath.Silent(part.PointMetres);
            return default;
        }

        return Mirror(view, part.Normal, hT, hR, out path);
    }

    internal static LaneComplex Polygon(in EchoView view, PolygonPart part, out EchoPath path)
    {
        ReadOnlySpan<Vec3> corners = part.CornersMetres.AsSpan();
        if (!Faces(view, part, out double hT, out double hR, out double side, out Vec3 normal))
        {
            path = EchoPath.Silent(part.Middle);
            return default;
        }

        EchoView moved = view;
        Vec3 mirror = MirrorPoint(view, normal, hT, hR);
        bool isInside = Locate(corners, normal, side, ref mirror, out Vec3 shift, out Vec3 nearest);
        if (shift != Vec3.Zero)
        {
            moved = view.MovedBy(shift);
        }

        LaneComplex sum = default;
        if (isInside)
        {
            sum = Mirror(moved, normal, hT, hR, out path);
        }
        else
        {
            path = new EchoPath(nearest, 0.5 * (nearest.DistanceTo(view.Transmitter) + nearest.DistanceTo(view.Receiver)), false);
        }

        double imageLength = ImageLength(moved, normal, hR);
        if (view.Gross is { } gross)
        {
            gross.Begin(moved, Vector512<double>.One);
            if (isInside)
            {
                gross.AddRay(moved, path.Point, Vector512.Create(1 / imageLength));
            }

            if (gross.ArmMetres > 0)
            {
                AddMoves(gross, moved, corners, normal, hT, hR, mirror, imageLength, isInside, nearest);
            }
        }

        for (int i = 0; i < corners.Length; i++)
        {
            Vec3 next = corners[i + 1 == corners.Length ? 0 : i + 1];
            sum += Edge(moved, corners[i], next, normal, hR, side, mirror, imageLength);
        }

        return sum;
    }

    // See FaceMove. The mirror point may not come to the rim, and the nearest point of the rim may not jump.
    private static void AddMoves(
        GrossSum gross, in EchoView view, ReadOnlySpan<Vec3> corners, Vec3 normal, double hT, double hR, Vec3 mirror, double imageLength, bool isInside,
        Vec3 nearest)
    {
        double height = Math.Min(hT, hR) - FaceMove.LargestMetres;
        double mirrorMove = FaceMove.MirrorFactor * gross.ArmMetres / (hT + hR - (2 * FaceMove.LargestMetres));
        bool isParallelogram = corners.Length == 4 && (corners[0] + corners[2]).DistanceTo(corners[1] + corners[3]) < 1e-9;
        Vec3 there = isInside ? mirror : nearest;
        double rangeThere = isInside ? height : FaceMove.RangeOf(view, there);
        bool isFarOff = nearest.DistanceTo(mirror) > (mirrorMove * FaceMove.LargestMetres) + (2 * LeastRimMetres);
        if (!(isParallelogram && isFarOff && height > 0 && mirrorMove <= 1 && rangeThere >= FaceMove.LeastRangeMetres))
        {
            gross.CannotMove();
            return;
        }

        if (isInside)
        {
            // |Δ(1/L)|·L, and the turn of the ray, are at most 2D/(L − 2D), and L is no less than both heights.
            gross.AddMove(view, mirror, 1 / imageLength, (1 + (view.Block.LargestAbsorption * 2 * gross.ArmMetres)) / height, height);
        }

        Vec3 image = view.Receiver - (2 * hR * normal);
        for (int i = 0; i < corners.Length; i++)
        {
            Vec3 from = corners[i], along = corners[i + 1 == corners.Length ? 0 : i + 1] - from;
            double length = along.Length;
            along /= length;
            var line = new LineIntegral(view, from, along, 0, length);
            Vec3 rho = from - view.Transmitter, s = from - image, toMirror = mirror - from, toThere = there - from;
            double mirrorAlong = toMirror.Dot(along), thereAlong = toThere.Dot(along);
            var rim = new RimMoves(hT + hR, height, thereAlong, (toThere - (thereAlong * along)).Length, rangeThere);
            line.AddRimMoves(
                gross, view.Block, InverseFourPi * rho.Cross(s).Dot(along), rho.Dot(s), (rho + s).Dot(along), rim, mirrorAlong, (toMirror - (mirrorAlong * along)).Length);
        }
    }

    /// <summary>Heights of transmitter and receiver over the face that they see, and its normal towards them; false when they see none.</summary>
    private static bool Faces(in EchoView view, PolygonPart part, out double hT, out double hR, out double side, out Vec3 normal)
    {
        normal = part.Normal;
        Vec3 corner = part.CornersMetres[0];
        hT = (view.Transmitter - corner).Dot(normal);
        hR = (view.Receiver - corner).Dot(normal);
        side = 1;
        if (hT < 0 && hR < 0 && part.IsTwoSided)
        {
            (hT, hR, side, normal) = (-hT, -hR, -1, -normal);
        }

        return hT > 1e-6 && hR > 1e-6;
    }

    internal static Vec3 MirrorPoint(in EchoView view, Vec3 normal, double hT, double hR)
    {
        Vec3 footT = view.Transmitter - (hT * normal);
        Vec3 footR = view.Receiver - (hR * normal);
        return ((hR * footT) + (hT * footR)) / (hT + hR);
    }

    internal static double ImageLength(in EchoView view, Vec3 normal, double hR) =>
        (view.Receiver - (2 * hR * normal)).DistanceTo(view.Transmitter);

    internal static LaneComplex Mirror(in EchoView view, Vec3 normal, double hT, double hR, out EchoPath path)
    {
        Vec3 point = MirrorPoint(view, normal, hT, hR);
        double length = ImageLength(view, normal, hR);
        path = new EchoPath(point, 0.5 * length, true);
        return view.Ray(point, Vector512.Create(1 / length), out _);
    }

    private static LaneComplex Edge(
        in EchoView view, Vec3 from, Vec3 to, Vec3 normal, double hR, double side, Vec3 mirror, double imageLength)
    {
        RimWeight weight = WeightOf(view, from, to, normal, hR, side, mirror, imageLength, out LineIntegral line, out double pole);
        return line.Evaluate(view, weight, pole);
    }

    private static RimWeight WeightOf(
        in EchoView view, Vec3 from, Vec3 to, Vec3 normal, double hR, double side, Vec3 mirror, double imageLength, out LineIntegral line,
        out double pole)
    {
        Vec3 along = to - from;
        double length = along.Length;
        along /= length;
        line = new LineIntegral(view, from, along, 0, length);
        Vec3 rho = from - view.Transmitter;
        Vec3 s = from - (view.Receiver - (2 * hR * normal));

        // Way (a) needs the edge to be several Fresnel zones away from the mirror point, and beams that turn slowly.
        double k = view.Block.SmallestWavenumber;
        bool isNear = k * (line.LeastPath - imageLength) < NearRimPhase;
        pole = 0;
        if (isNear)
        {
            Vec3 off = mirror - from;
            pole = (off - (off.Dot(along) * along)).Length;
        }

        return new RimWeight(side * InverseFourPi * rho.Cross(s).Dot(along), rho.Dot(s), (rho + s).Dot(along));
    }

    /// <summary>
    /// Returns whether a point of the plane lies inside the outline; moves it off the rim when it lies on it; finds the nearest
    /// point of the outline.
    /// </summary>
    private static bool Locate(ReadOnlySpan<Vec3> corners, Vec3 normal, double side, ref Vec3 point, out Vec3 shift, out Vec3 nearest)
    {
        shift = Vec3.Zero;
        nearest = point;
        double least = double.PositiveInfinity;
        Vec3 leastOutward = Vec3.Zero;
        Vec3 e1 = (corners[1] - corners[0]).Normalized();
        Vec3 e2 = normal.Cross(e1);
        bool isInside = false;
        for (int i = 0; i < corners.Length; i++)
        {
            Vec3 a = corners[i] - point;
            Vec3 edge = corners[i + 1 == corners.Length ? 0 : i + 1] - corners[i];
            double f = Math.Clamp(-a.Dot(edge) / edge.LengthSquared, 0, 1);
            Vec3 to = a + (f * edge);
            double distance = to.Length;
            if (distance < least)
            {
                least = distance;
                nearest = point + to;
                leastOutward = side * edge.Cross(normal).Normalized();
            }

            // Crossing number of the ray along e1.
            double ya = a.Dot(e2);
            double yb = (a + edge).Dot(e2);
            if ((ya > 0) != (yb > 0))
            {
                double x = a.Dot(e1) + ((a + edge).Dot(e1) - a.Dot(e1)) * (ya / (ya - yb));
                isInside ^= x > 0;
            }
        }

        if (least < LeastRimMetres)
        {
            // On the rim: stand just outside it, on the side away from the outline.
            shift = LeastRimMetres * leastOutward;
            point += shift;
            return false;
        }

        return isInside;
    }

    /// <summary>N / (ρ s (ρ s + ρ·s)): the numerator does not change along an edge, and ρ·s is a quadratic in z.</summary>
    private readonly struct RimWeight(double numerator, double constant, double linear) : ILineWeight
    {
        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> At(Vector512<double> z, Vector512<double> rT, Vector512<double> rR, Vector512<double> inverse) =>
            numerator * inverse / ((rT * rR) + Vector512.Create(constant) + (z * (Vector512.Create(linear) + z)));
    }
}
