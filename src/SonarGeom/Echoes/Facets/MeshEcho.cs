using System.Numerics;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes.Facets;

/// <summary>The echo of a mesh obstacle by surface integral, as maps and verdicts take it: level at the peak, range, glint.</summary>
/// <remarks>
/// <para>Echoes of different places of a mesh arrive at different times and must not be added up. The level is therefore that of the
/// peak in time of the echo, <c>max |Σ sⱼpⱼ exp(−iωⱼt)| / Σ sⱼ</c> over the band of the burst, s² being its power weights: for a single
/// arrival it is the band mean of the closed forms, for several that of the strongest group. The range is half the path of the peak.</para>
/// <para>Left out is what lies more than <see cref="WindowMetres"/> of path behind the nearest facet: it comes later and takes nothing from
/// what came before. Left out are waves from facet to facet, which can add to an echo or weaken it where they arrive together with it, as
/// in the inside of a corner of the mesh; the results say so.</para>
/// </remarks>
internal static class MeshEcho
{
    /// <summary>What the level may be off: 0.3 dB between the engines, 0.3 dB from subdivision. Verdicts take it off. [dB]</summary>
    internal const double EstimatedErrorDecibels = 0.6;

    /// <summary>Paths longer than the shortest one by more than this are left out. [m]</summary>
    internal const double WindowMetres = 3.0;

    /// <summary>How much finer facets are cut to find out what the cutting leaves.</summary>
    internal const double FinerRatio = 4;

    private const int FewestFrequencies = 9;
    private const int MostFrequencies = 65;
    private const double StepsPerCycleOfBand = 8;
    private const double LevelCosine = 1.0 - 1e-9;

    // Paths fold onto one another after the sound speed over the spacing; this much more keeps the ends apart. [m]
    private const double GuardMetres = 0.15;

    // Coarser than the usual subdivision: up to 0.25 dB off it for poles and boxes, which the estimated error covers. Corners with the
    // ground ask for finer facets.
    private static readonly SurfaceIntegralOptions Direct = new(SubdivisionRatio: 64, WithDoubleBounce: false, WithTripleBounce: false);
    private static readonly SurfaceIntegralOptions Bounced = new(SubdivisionRatio: 128, WithSingleBounce: false);
    private static readonly SurfaceIntegralOptions Corner = Bounced with { WithTripleBounce = false };

    /// <summary>Returns the echo of a mesh.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The mesh.</param>
    /// <param name="partOffset">Displacement of the mesh. [m]</param>
    /// <param name="finer">How much finer than usual its facets are cut.</param>
    internal static PartEcho Evaluate(SensorAtPose sensor, MeshPart part, Vec3 partOffset, double finer = 1)
    {
        RigidTransform worldFromMesh = new RigidTransform(Rotation.Identity, partOffset) * part.WorldFromMesh;
        RigidTransform meshFromWorld = worldFromMesh.Inverse;
        var local = new SensorAtPose(sensor.Prepared, meshFromWorld * sensor.WorldFromSensor);
        var silent = new PartEcho(PartEcho.SilentDecibels, PartEcho.SilentDecibels, 0, part.Middle + partOffset, 0, 0, false);
        double farthest = SensorBands.FarthestPathMetres(sensor);
        if (IsOutOfSight(local, part.Shape.Bounds, farthest, out double nearest, out double span))
        {
            return silent;
        }

        MeshSurfaces mesh = MeshSurfaces.Of(part.Shape, part.RoughnessRmsMetres);
        double speed = sensor.Prepared.Medium.SoundSpeedMetresPerSecond;
        BurstSpectrum burst = SpectrumFor(sensor, speed, Math.Min(span, WindowMetres));
        var band = new FrequencyBand(burst.FrequenciesHertz[0], burst.SpacingHertz, burst.FrequenciesHertz.Length);
        double last = Math.Min(farthest, nearest + WindowMetres);
        GroundMirror? ground = GroundOf(part, worldFromMesh, partOffset.Z);
        if (part.IsCornerOnly && ground is null)
        {
            return silent;
        }

        EchoSpectrum echo = Spectrum(mesh, local, band, ground, last, null, finer, part.IsCornerOnly);
        if (echo.FacetsSummed == 0)
        {
            return silent;
        }

        (double amplitude, double path) = Peak(echo, burst, speed);
        double level = sensor.Transducer.SourceLevelDecibels + sensor.Prepared.Spectrum.BuildUpDecibels;
        if (!(level + Decibels.FromAmplitudeRatio(amplitude) > PartEcho.SilentDecibels))
        {
            return silent;
        }

        (Vec3 glint, bool isSpecular) = Glint(local, mesh, path);
        glint = worldFromMesh.ApplyToPoint(glint);
        double tone = level + Decibels.FromAmplitudeRatio(echo.Pressures[band.Count / 2].Magnitude);
        return new PartEcho(
            level + Decibels.FromAmplitudeRatio(amplitude), Math.Max(tone, PartEcho.SilentDecibels), 0.5 * path, glint,
            sensor.TransmitAmplitude(glint), sensor.ReceiveAmplitude(glint), isSpecular);
    }

    /// <summary>Returns the ground in the frame of a mesh; null when it is not level there or the mesh does not stand on it.</summary>
    /// <param name="part">The mesh.</param>
    /// <param name="worldFromMesh">Its pose.</param>
    /// <param name="liftMetres">How much the mesh and its ground are lifted. [m]</param>
    internal static GroundMirror? GroundOf(MeshPart part, RigidTransform worldFromMesh, double liftMetres = 0) =>
        part.FloorRoughnessRmsMetres is { } rough && worldFromMesh.Rotation.AxisZ.Z > LevelCosine
            ? new GroundMirror(liftMetres + part.FloorHeightMetres - worldFromMesh.Translation.Z, rough)
            : null;

    /// <summary>Sums the facets of a mesh: the plain paths, and those that bounce on the ground once on the way out, on the way back, or on
    /// both.</summary>
    /// <param name="mesh">The mesh.</param>
    /// <param name="sensor">The sensor in the frame of the mesh.</param>
    /// <param name="band">The frequencies.</param>
    /// <param name="ground">The ground in that frame; null for none.</param>
    /// <param name="lastPathMetres">Longer paths are left out. [m]</param>
    /// <param name="others">What else can stand in the way, in that frame; null for nothing.</param>
    /// <param name="finer">How much finer than usual its facets are cut.</param>
    /// <param name="isCornerOnly">Whether only the paths with one bounce on the ground, which there must be, count.</param>
    internal static EchoSpectrum Spectrum(
        MeshSurfaces mesh, SensorAtPose sensor, FrequencyBand band, GroundMirror? ground, double lastPathMetres, IRayScene? others, double finer = 1,
        bool isCornerOnly = false)
    {
        FacetSensor facets = SensorBands.FacetSensor(sensor, band);
        IRayScene all = others is null ? mesh.Scene : new EitherScene(mesh.Scene, others);
        EchoSpectrum? echo = null;
        foreach ((FacetSurface surface, bool isExposed) in mesh.Pieces)
        {
            if (!isCornerOnly)
            {
                Add(SurfaceIntegral.Evaluate(surface, facets, band, isExposed ? others : all, null, Cut(Direct)));
            }

            if (ground is not null)
            {
                Add(SurfaceIntegral.Evaluate(surface, facets, band, all, ground, Cut(isCornerOnly ? Corner : Bounced)));
            }
        }

        return echo!;

        void Add(EchoSpectrum one) => echo = echo is null ? one : echo + one;

        SurfaceIntegralOptions Cut(SurfaceIntegralOptions options) =>
            options with { FarthestPathMetres = lastPathMetres, SubdivisionRatio = finer * options.SubdivisionRatio };
    }

    /// <summary>Returns whether a whole box lies behind a sensor or beyond the end of listening.</summary>
    /// <param name="sensor">The sensor in the frame of the box.</param>
    /// <param name="box">The box.</param>
    /// <param name="farthest">The longest path that is listened to. [m]</param>
    /// <param name="nearest">The shortest path to the box. [m]</param>
    /// <param name="span">How much longer the longest path to it is, as far as it is listened to. [m]</param>
    internal static bool IsOutOfSight(SensorAtPose sensor, BoundingBox box, double farthest, out double nearest, out double span)
    {
        Vec3 low = box.LowMetres, high = box.HighMetres;
        bool isAhead = false;
        double far = 0;
        for (int i = 0; i < 8; i++)
        {
            var corner = new Vec3((i & 1) != 0 ? high.X : low.X, (i & 2) != 0 ? high.Y : low.Y, (i & 4) != 0 ? high.Z : low.Z);
            isAhead |= (corner - sensor.MidpointMetres).Dot(sensor.Boresight) > -0.05;
            far = Math.Max(far, Path(sensor, corner));
        }

        Vec3 m = sensor.MidpointMetres;
        nearest = Path(sensor, new Vec3(Math.Clamp(m.X, low.X, high.X), Math.Clamp(m.Y, low.Y, high.Y), Math.Clamp(m.Z, low.Z, high.Z)));
        span = Math.Min(far, farthest) - nearest;
        return !isAhead || nearest > farthest;
    }

    private static double Path(SensorAtPose sensor, Vec3 point) => sensor.TransmitterMetres.DistanceTo(point) + sensor.ReceiverMetres.DistanceTo(point);

    // An odd number, so that the nominal frequency is among them, and enough that no two arrivals fold onto one another.
    private static BurstSpectrum SpectrumFor(SensorAtPose sensor, double speed, double span)
    {
        BurstSpectrum few = sensor.Prepared.SpectrumOf(FewestFrequencies);
        double width = few.SpacingHertz * FewestFrequencies;
        int count = (int)Math.Ceiling(width * (span + GuardMetres) / speed);
        count = count <= FewestFrequencies ? FewestFrequencies : count <= 17 ? 17 : count <= 33 ? 33 : MostFrequencies;
        return sensor.Prepared.SpectrumOf(count);
    }

    private static (double Amplitude, double PathMetres) Peak(EchoSpectrum echo, BurstSpectrum burst, double speed)
    {
        int n = echo.Band.Count;
        Span<Complex> values = stackalloc Complex[n];
        double sum = 0;
        double centre = 0.5 * (n - 1);
        for (int j = 0; j < n; j++)
        {
            double weight = Math.Sqrt(burst.PowerWeights[j]);
            sum += weight;
            values[j] = weight * echo.Pressures[j];
        }

        double start = echo.NearestPathMetres, step = speed / (burst.SpacingHertz * n * StepsPerCycleOfBand);
        int steps = Math.Max(1, (int)Math.Ceiling((echo.FarthestPathMetres - start) / step));
        double best = -1, bestPath = start, before = 0, last = 0, beforeBest = 0, afterBest = 0;
        bool isAfterBest = false;
        for (int i = 0; i <= steps; i++)
        {
            double path = start + (i * step), turn = -2 * Math.PI * burst.SpacingHertz / speed * path;
            Complex rotation = Complex.FromPolarCoordinates(1, turn), phase = Complex.FromPolarCoordinates(1, -centre * turn), total = Complex.Zero;
            for (int j = 0; j < n; j++)
            {
                total += values[j] * phase;
                phase *= rotation;
            }

            (before, last) = (last, total.Magnitude);
            if (isAfterBest)
            {
                (afterBest, isAfterBest) = (last, false);
            }

            if (last > best)
            {
                (best, bestPath, beforeBest, afterBest, isAfterBest) = (last, path, i == 0 ? last : before, last, true);
            }
        }

        // A parabola through the three highest samples.
        double bend = beforeBest - (2 * best) + afterBest;
        double shift = bend < 0 ? Math.Clamp(0.5 * (beforeBest - afterBest) / bend, -0.5, 0.5) : 0;
        double peak = best - (0.25 * (beforeBest - afterBest) * shift);
        return (peak / sum, Math.Clamp(bestPath + (shift * step), echo.NearestPathMetres, echo.FarthestPathMetres));
    }

    // The facet whose nearest point to the sensor, in sight, has the path that is the closest to that of the peak.
    private static (Vec3 Point, bool IsSpecular) Glint(SensorAtPose sensor, MeshSurfaces mesh, double path)
    {
        Vec3 from = sensor.MidpointMetres, best = Vec3.Zero;
        bool isSpecular = false;
        double least = double.PositiveInfinity;
        foreach (FacetSurface surface in mesh.Surfaces)
        {
            foreach (FacetFace face in surface.Faces)
            {
                double side = face.UnitNormal.Dot(from - face.Corners.A);
                if (side <= 0 && !surface.IsTwoSided)
                {
                    continue;
                }

                Vec3 point = Nearest(face.Corners, from);
                double off = Math.Abs(Path(sensor, point) - path);
                if (off < least && IsInSight(mesh.Scene, point, from))
                {
                    Vec3 back = from - point;
                    (best, least, isSpecular) = (point, off, Math.Abs(back.Dot(face.UnitNormal)) > 0.9999 * back.Length);
                }
            }
        }

        return double.IsFinite(least) ? (best, isSpecular) : (from + (0.5 * path * sensor.Boresight), false);
    }

    private static bool IsInSight(RayScene scene, Vec3 point, Vec3 from)
    {
        const double GapMetres = 1e-3;
        Vec3 back = from - point;
        double length = back.Length;
        return !(length > GapMetres) || !scene.AnyHit(point, back / length, GapMetres, length);
    }

    private static Vec3 Nearest(in FacetQuad quad, Vec3 to)
    {
        // Two triangles; of a single one the second has no area.
        Vec3 one = NearestOnTriangle(quad.A, quad.B, quad.C, to);
        if (quad.D == quad.A)
        {
            return one;
        }

        Vec3 other = NearestOnTriangle(quad.A, quad.C, quad.D, to);
        return one.DistanceTo(to) <= other.DistanceTo(to) ? one : other;
    }

    private static Vec3 NearestOnTriangle(Vec3 a, Vec3 b, Vec3 c, Vec3 p)
    {
        // Inside when the foot of the perpendicular lies on the inner side of all edges, else on the nearest edge.
        Vec3 normal = (b - a).Cross(c - a);
        double square = normal.LengthSquared;
        if (square > 0)
        {
            Vec3 foot = p - ((p - a).Dot(normal) / square * normal);
            if ((b - a).Cross(foot - a).Dot(normal) >= 0 && (c - b).Cross(foot - b).Dot(normal) >= 0 && (a - c).Cross(foot - c).Dot(normal) >= 0)
            {
                return foot;
            }
        }

        Vec3 best = NearestOnEdge(a, b, p);
        foreach (Vec3 other in (ReadOnlySpan<Vec3>)[NearestOnEdge(b, c, p), NearestOnEdge(c, a, p)])
        {
            best = other.DistanceTo(p) < best.DistanceTo(p) ? other : best;
        }

        return best;
    }

    private static Vec3 NearestOnEdge(Vec3 a, Vec3 b, Vec3 p)
    {
        Vec3 edge = b - a;
        double square = edge.LengthSquared;
        return square > 0 ? a + (Math.Clamp((p - a).Dot(edge) / square, 0, 1) * edge) : a;
    }
}
