using System.Runtime.CompilerServices;
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
        var rim = new Rim(view, part, normal, hR, first);
        LaneComplex round = view.Block.BeamTurnAt(0.5 * (hT + hR)) > LineIntegral.SharpTurn
            ? Round(view.Block, rim, count, new ExactBeams(view, rim))
            : Round(view.Block, rim, count, new HarmonicBeams(view, rim));
        return sum + (round * LaneMath.Decay(view.Block.AbsorptionNepersPerMetre, rim.ReferencePath));
    }

    [MethodImpl(MethodImplOptions.NoInlining)]
    private static LaneComplex Round<TBeams>(LaneBlock block, in Rim rim, int count, in TBeams beams)
        where TBeams : struct, IRimBeams
    {
        Vector512<double> k = block.Wavenumbers;
        Vector512<double> real = Vector512<double>.Zero;
        Vector512<double> imaginary = Vector512<double>.Zero;

        // Eight neighbouring nodes at a time; the whole set turns by eight steps.
        double step = 2 * Math.PI / count;
        Span<double> cosines = stackalloc double[8];
        Span<double> sines = stackalloc double[8];
        for (int i = 0; i < 8; i++)
        {
            (sines[i], cosines[i]) = Math.SinCos(i * step);
        }

        Vector512<double> c = Vector512.Create<double>(cosines);
        Vector512<double> s = Vector512.Create<double>(sines);
        var (turnSine, turnCosine) = Math.SinCos(8 * step);
        for (int done = 0; done < count; done += 8)
        {
            Vector512<double> weight = rim.Weights(c, s, step, out Vector512<double> path);
            for (int i = 0; i < 8; i++)
            {
                Vector512<double> g = beams.At(c[i], s[i]) * weight[i];
                LaneComplex phase = LaneMath.Phase(k * path[i]);
                real = Vector512.FusedMultiplyAdd(g, phase.Real, real);
                imaginary = Vector512.FusedMultiplyAdd(g, phase.Imaginary, imaginary);
            }

            (c, s) = ((c * turnCosine) - (s * turnSine), (s * turnCosine) + (c * turnSine));
        }

        return new LaneComplex(real, imaginary);
    }

    private static double SineOff(Vec3 from, Vec3 to, double height)
    {
        double length = from.DistanceTo(to);
        return Math.Sqrt(Math.Max(0, 1 - (height / length * (height / length))));
    }

    private static Vec3 AnyAcross(Vec3 normal) =>
        (Math.Abs(normal.X) < 0.5 ? Vec3.UnitX : Vec3.UnitZ).Cross(normal).Normalized();

    /// <summary>The rim of a disc: the point at angle φ is centre + a(c·first + s·second).</summary>
    private readonly struct Rim
    {
        private readonly double _radius;
        private readonly Vec3 _first;
        private readonly Vec3 _second;
        private readonly Vec3 _fromTransmitter;
        private readonly Vec3 _fromReceiver;
        private readonly Vec3 _fromImage;

        internal Rim(in EchoView view, DiscPart part, Vec3 normal, double hR, Vec3 first)
        {
            _radius = part.RadiusMetres;
            _first = first;
            _second = normal.Cross(first);
            _fromTransmitter = part.CentreMetres - view.Transmitter;
            _fromReceiver = part.CentreMetres - view.Receiver;
            _fromImage = part.CentreMetres - view.Receiver + (2 * hR * normal);
            ReferencePath = Math.Max(0, _fromTransmitter.Length + _fromReceiver.Length - (2 * _radius));
        }

        /// <summary>No path by way of the rim is shorter. [m]</summary>
        internal double ReferencePath { get; }

        /// <summary>(dφ a/4π)·((ρ × s)·dl)/(ρ s (ρ s + ρ·s)) at eight nodes, and the paths.</summary>
        internal Vector512<double> Weights(Vector512<double> c, Vector512<double> s, double step, out Vector512<double> path)
        {
            // ρ = A + a·e(φ), mirrored s = B + a·e(φ), dl = e′(φ): all products are trigonometric polynomials of φ.
            Vector512<double> alongT = (c * _fromTransmitter.Dot(_first)) + (s * _fromTransmitter.Dot(_second));
            Vector512<double> alongR = (c * _fromReceiver.Dot(_first)) + (s * _fromReceiver.Dot(_second));
            Vector512<double> alongI = (c * _fromImage.Dot(_first)) + (s * _fromImage.Dot(_second));
            Vector512<double> square = Vector512.Create(_radius * _radius);
            Vector512<double> rT = Vector512.Sqrt(Vector512.Create(_fromTransmitter.LengthSquared) + square + (alongT * (2 * _radius)));
            Vector512<double> rR = Vector512.Sqrt(Vector512.Create(_fromReceiver.LengthSquared) + square + (alongR * (2 * _radius)));
            path = rT + rR;
            Vector512<double> dot = Vector512.Create(_fromTransmitter.Dot(_fromImage)) + square + ((alongT + alongI) * _radius);

            // (A + ae)×(B + ae)·e′ = (A×B)·e′ + a(A − B)·(e × e′), e × e′ = first × second.
            Vec3 cross = _fromTransmitter.Cross(_fromImage);
            Vector512<double> numerator = (c * cross.Dot(_second)) - (s * cross.Dot(_first))
                + Vector512.Create(_radius * (_fromTransmitter - _fromImage).Dot(_first.Cross(_second)));
            Vector512<double> product = rT * rR;
            return numerator * (step * _radius / (4 * Math.PI)) / (product * (product + dot));
        }

        /// <summary>Both beams towards a point of the rim, and the absorption beyond the reference path.</summary>
        internal Vector512<double> BeamsAt(in EchoView view, double c, double s)
        {
            Vec3 radial = _radius * ((c * _first) + (s * _second));
            Vec3 outward = _fromTransmitter + radial;
            Vec3 back = _fromReceiver + radial;
            double rT = outward.Length;
            double rR = back.Length;
            return view.Beams(outward, 1 / rT, back, 1 / rR)
                * LaneMath.SmallDecay(view.Block.AbsorptionNepersPerMetre * Math.Max(0, rT + rR - ReferencePath));
        }
    }

    /// <summary>Where the sum round the rim takes its beams from; the loop is made for each kind, the quick one without a call.</summary>
    private interface IRimBeams
    {
        Vector512<double> At(double c, double s);
    }

    /// <summary>Beams looked up at every node.</summary>
    private readonly struct ExactBeams(EchoView view, Rim rim) : IRimBeams
    {
        public Vector512<double> At(double c, double s) => rim.BeamsAt(view, c, s);
    }

    /// <summary>Beams round the rim where they turn slowly: constant, first and second harmonic through eight points.</summary>
    private readonly struct HarmonicBeams : IRimBeams
    {
        private readonly Vector512<double> _mean;
        private readonly Vector512<double> _c1;
        private readonly Vector512<double> _s1;
        private readonly Vector512<double> _c2;
        private readonly Vector512<double> _s2;

        internal HarmonicBeams(in EchoView view, in Rim rim)
        {
            _mean = _c1 = _s1 = _c2 = _s2 = Vector512<double>.Zero;
            for (int i = 0; i < 8; i++)
            {
                var (s, c) = Math.SinCos(i * Math.PI / 4);
                Vector512<double> b = rim.BeamsAt(view, c, s) * 0.125;
                _mean += b;
                _c1 += b * (2 * c);
                _s1 += b * (2 * s);
                _c2 += b * (2 * ((c * c) - (s * s)));
                _s2 += b * (4 * s * c);
            }
        }

        [MethodImpl(MethodImplOptions.AggressiveInlining)]
        public Vector512<double> At(double c, double s) =>
            _mean + (_c1 * c) + (_s1 * s) + (_c2 * ((c * c) - (s * s))) + (_s2 * (2 * s * c));
    }
}
