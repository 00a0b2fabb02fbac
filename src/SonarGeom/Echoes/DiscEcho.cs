using System.Runtime.Intrinsics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>Flat discs at any attitude: the mirror image and the integral round the circle, as for <see cref="PlateEcho"/>.</summary>
/// <remarks>The rim is closed and smooth, so the trapezoidal rule converges exponentially once it follows the phase.</remarks>
internal static class DiscEcho
{
    private const int MostNodes = 2048;

    internal static LaneComplex Disc(in EchoView view, DiscPart part, out EchoPath path)
    {
        Vec3 normal = part.Normal;
        double hT = (view.Transmitter - part.CentreMetres).Dot(normal);
        double hR = (view.Receiver - part.CentreMetres).Dot(normal);
        if (hT < 0 && hR < 0 && part.IsTwoSided)
        {
            (hT, hR, normal) = (-hT, -hR, -normal);
        }

        if (!(hT > 1e-6 && hR > 1e-6))
        {
            path = EchoPath.Silent(part.CentreMetres);
            return default;
        }

        Vec3 mirror = PlateEcho.MirrorPoint(view, normal, hT, hR);
        Vec3 off = mirror - part.CentreMetres;
        double distance = off.Length;
        double radius = part.RadiusMetres;
        Vec3 outward = distance > 1e-9 ? off / distance : AnyAcross(normal);

        // Nodes enough for the phase, and for the peak of the integrand when the mirror point is near the rim.
        double sideways = Math.Max(SineOff(view.Transmitter, part.CentreMetres, hT), SineOff(view.Receiver, part.CentreMetres, hR));
        double phase = 2 * view.Block.LargestWavenumber * radius * Math.Min(1, sideways + (0.5 * radius / (hT + hR)));
        double gap = Math.Abs(radius - distance);
        double finest = 4 * Math.PI * radius / MostNodes * 2.5;
        int count = (int)(phase + 24 + Math.Min(20 * radius / Math.Max(gap, finest), MostNodes));
        count = Math.Min((count + 7) & ~7, MostNodes);

        LaneComplex sum;
        if (gap < finest)
        {
            // On the rim the image term and the integral jump against each other: take both sides and go straight across.
            double share = 0.5 + (0.5 * (radius - distance) / finest);
            EchoView inner = view.MovedBy((radius - finest - distance) * outward);
            EchoView outer = view.MovedBy((radius + finest - distance) * outward);
            sum = (Whole(inner, part, normal, hT, hR, true, count, outward) * share)
                + (Whole(outer, part, normal, hT, hR, false, count, outward) * (1 - share));
        }
        else
        {
            sum = Whole(view, part, normal, hT, hR, distance < radius, count, outward);
        }

        bool isInside = distance < radius;
        Vec3 glint = isInside ? mirror : part.CentreMetres + (radius * outward);
        path = new EchoPath(glint, 0.5 * (glint.DistanceTo(view.Transmitter) + glint.DistanceTo(view.Receiver)), isInside);
        return sum;
    }

    private static LaneComplex Whole(
        in EchoView view, DiscPart part, Vec3 normal, double hT, double hR, bool isInside, int count, Vec3 first)
    {
        LaneComplex sum = isInside ? PlateEcho.Mirror(view, normal, hT, hR, out _) : default;
        Vec3 second = normal.Cross(first);
        Vec3 image = view.Receiver - (2 * hR * normal);
        LaneBlock block = view.Block;
        double step = 2 * Math.PI / count;
        var (stepSine, stepCosine) = Math.SinCos(step);
        double c = 1;
        double s = 0;
        double scale = step * part.RadiusMetres / (4 * Math.PI);
        double reference = (first * part.RadiusMetres + part.CentreMetres - view.Transmitter).Length * 2;
        Vector512<double> real = Vector512<double>.Zero;
        Vector512<double> imaginary = Vector512<double>.Zero;
        for (int i = 0; i < count; i++)
        {
            Vec3 rim = part.CentreMetres + (part.RadiusMetres * ((c * first) + (s * second)));
            Vec3 along = (c * second) - (s * first);
            Vec3 rho = rim - view.Transmitter;
            Vec3 back = rim - view.Receiver;
            Vec3 mirrored = rim - image;
            double rT = rho.Length;
            double rR = back.Length;
            double product = rT * rR;
            double weight = scale * rho.Cross(mirrored).Dot(along) / (product * (product + rho.Dot(mirrored)));
            Vector512<double> decay = LaneMath.SmallDecay(block.AbsorptionNepersPerMetre * Math.Max(0, rT + rR - reference + (2 * part.RadiusMetres)));
            Vector512<double> g = view.Beams(rho, 1 / rT, back, 1 / rR) * decay * weight;
            LaneComplex phase = LaneMath.Phase(block.Wavenumbers * (rT + rR));
            real = Vector512.FusedMultiplyAdd(g, phase.Real, real);
            imaginary = Vector512.FusedMultiplyAdd(g, phase.Imaginary, imaginary);
            (c, s) = ((c * stepCosine) - (s * stepSine), (s * stepCosine) + (c * stepSine));
        }

        return sum + (new LaneComplex(real, imaginary) * Vector512.Exp(block.AbsorptionNepersPerMetre * -(reference - (2 * part.RadiusMetres))));
    }

    private static double SineOff(Vec3 from, Vec3 to, double height)
    {
        double length = from.DistanceTo(to);
        return Math.Sqrt(Math.Max(0, 1 - (height / length * (height / length))));
    }

    private static Vec3 AnyAcross(Vec3 normal) =>
        (Math.Abs(normal.X) < 0.5 ? Vec3.UnitX : Vec3.UnitZ).Cross(normal).Normalized();
}
