using System.Collections.Immutable;
using System.Numerics;
using System.Runtime.InteropServices;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Echoes.Facets;

/// <summary>
/// The echo of any mesh by the Kirchhoff surface integral: the lit side carries twice the incident pressure, the rest none.
/// </summary>
/// <remarks>
/// <para>Facets are split until the wave fronts are plane over each (see <see cref="SurfaceIntegralOptions"/>), then integrated
/// exactly. Facets take part where transmitter and receiver both see them. Over ground, images of transmitter and receiver add the
/// paths with one or two bounces on the ground.</para>
/// <para>Outside the integral: waves that creep round the back, waves between facets, and surfaces seen at more than about 75° from
/// their normal. Edges have the strength that the integral gives them unless the edge correction is on.</para>
/// <para>Meshes whose faces are all small against the wavelength take the fast way for the plain path when there are many frequencies:
/// faces as points with an area and a second moment, in single precision (see <see cref="FacetSum"/>), 1e-3 of the echo from the
/// slow way.</para>
/// <para>Results do not depend on the number of threads: facets are summed in fixed groups, and groups in order.</para>
/// </remarks>
public static class SurfaceIntegral
{
    private const int FacetsPerGroup = 64;
    private const int LeastPieces = 128;
    private const double SmallestRadiusMetres = 5e-5;

    // The fast way: faces of at most an eighth of the wavelength from middle to corner, and enough of both to be worth it.
    private const double FineFacesPerWavelength = 8.0;
    private const int ManyFrequencies = 12;
    private const int ManyFaces = 2000;

    /// <summary>Returns the echo of a surface.</summary>
    /// <param name="surface">The surface.</param>
    /// <param name="sensor">Transmitter and receiver.</param>
    /// <param name="band">The frequencies.</param>
    /// <param name="occluders">What can stand in the way, the surface itself included; null when nothing can.</param>
    /// <param name="ground">Ground that mirrors sound; null when there is none.</param>
    /// <param name="options">How to carry out the integral; null for the usual way.</param>
    public static EchoSpectrum Evaluate(
        FacetSurface surface,
        FacetSensor sensor,
        FrequencyBand band,
        IRayScene? occluders = null,
        GroundMirror? ground = null,
        SurfaceIntegralOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(surface);
        ArgumentNullException.ThrowIfNull(sensor);
        ArgumentNullException.ThrowIfNull(band);
        options ??= SurfaceIntegralOptions.Default;
        ImmutableArray<FacetFace> pieces = surface.Pieces;
        List<BouncePath> paths = BouncePath.All(sensor, ground, options);
        BandNodes nodes = BandNodes.Of(band, sensor.Medium);
        double wavelength = sensor.Medium.SoundSpeedMetresPerSecond / band.HighestHertz;
        double factor = wavelength / options.SubdivisionRatio;

        EchoSpectrum? fast = null;
        if (options is { MayUseFastSum: true, WithSingleBounce: true } && IsFine(surface, band, wavelength))
        {
            fast = FastSingleBounce(surface, sensor, band, paths[0], occluders, options);
            paths.RemoveAt(0);
        }

        int groups = paths.Count == 0 ? 0 : (pieces.Length + FacetsPerGroup - 1) / FacetsPerGroup;
        var sums = new TriangleAccumulator[groups];
        Parallel.For(0, groups, group =>
        {
            var sum = new TriangleAccumulator(nodes, sensor.Medium, surface);
            int end = Math.Min(pieces.Length, (group + 1) * FacetsPerGroup);
            var waiting = new WaitingPieces(occluders ?? RayScene.Empty, options.ShadowSamplesPerFacet);
            foreach (BouncePath path in paths)
            {
                for (int i = group * FacetsPerGroup; i < end; i++)
                {
                    AddFace(pieces[i], surface.IsTwoSided, path, factor, options, occluders is null, ref waiting, sum);
                }

                waiting.MoveTo(sum, path);
            }

            sums[group] = sum;
        });

        EchoSpectrum echo = Collect(sums, surface, band, wavelength);
        echo = fast is null ? echo : fast + echo;
        return options.WithEdgeCorrection
            ? WithEdges(echo, surface, sensor, nodes, BouncePath.All(sensor, ground, options), occluders)
            : echo;
    }

    /// <summary>Returns the echo of a surface with an estimate of the error that subdivision leaves, from a second run with
    /// facets of half the size.</summary>
    /// <param name="surface">The surface.</param>
    /// <param name="sensor">Transmitter and receiver.</param>
    /// <param name="band">The frequencies.</param>
    /// <param name="occluders">What can stand in the way; null when nothing can.</param>
    /// <param name="ground">Ground that mirrors sound; null when there is none.</param>
    /// <param name="options">How to carry out the first run; null for the usual way.</param>
    /// <returns>The finer of the two echoes; its estimated error is the greatest difference over the band, relative to the
    /// greatest magnitude.</returns>
    public static EchoSpectrum EvaluateVerified(
        FacetSurface surface,
        FacetSensor sensor,
        FrequencyBand band,
        IRayScene? occluders = null,
        GroundMirror? ground = null,
        SurfaceIntegralOptions? options = null)
    {
        options ??= SurfaceIntegralOptions.Default;
        EchoSpectrum coarse = Evaluate(surface, sensor, band, occluders, ground, options);
        double finer = Math.Min(4.0 * options.SubdivisionRatio, 65536.0);
        EchoSpectrum fine = Evaluate(surface, sensor, band, occluders, ground, options with { SubdivisionRatio = finer });
        double difference = 0.0;
        double greatest = 0.0;
        for (int j = 0; j < band.Count; j++)
        {
            difference = Math.Max(difference, (fine.Pressures[j] - coarse.Pressures[j]).Magnitude);
            greatest = Math.Max(greatest, fine.Pressures[j].Magnitude);
        }

        return fine with { EstimatedRelativeError = greatest > 0 ? difference / greatest : 0.0 };
    }

    private static bool IsFine(FacetSurface surface, FrequencyBand band, double wavelength) =>
        band.Count >= ManyFrequencies && surface.Faces.Length >= ManyFaces && surface.RoughnessRmsMetres == 0
        && surface.LargestRadiusMetres <= wavelength / FineFacesPerWavelength;

    private static EchoSpectrum FastSingleBounce(
        FacetSurface surface, FacetSensor sensor, FrequencyBand band, in BouncePath path, IRayScene? occluders, SurfaceIntegralOptions options)
    {
        var near = new List<FacetFace>(surface.Faces.Length);
        foreach (FacetFace face in surface.Faces)
        {
            if (!IsTooFar(face.Corners, path, options.FarthestPathMetres))
            {
                near.Add(face);
            }
        }

        List<FacetFace> seen = occluders is null ? near : Seen(near, surface.IsTwoSided, path, occluders, options.ShadowSamplesPerFacet);
        FacetCloud cloud = FacetCloud.Of(CollectionsMarshal.AsSpan(seen), surface.IsTwoSided);
        EchoSpectrum echo = FacetSum.Evaluate(cloud, [sensor], band)[0];
        double material = Math.Exp(-FacetMedium.NepersPerDecibel * surface.ReflectionLossDecibels);
        return echo.WithPressures([.. echo.Pressures.Select(pressure => material * pressure)]);
    }

    // The faces of which both ends see half or more.
    private static List<FacetFace> Seen(List<FacetFace> faces, bool isTwoSided, in BouncePath path, IRayScene occluders, int shadowSamples)
    {
        var seen = new List<FacetFace>(faces.Count);
        var asked = new FacetFace[WaitingPieces.Most];
        var waiting = new WaitingPieces(occluders, shadowSamples);
        Span<double> shares = stackalloc double[WaitingPieces.Most];
        for (int i = 0; i <= faces.Count; i++)
        {
            if (waiting.Count == WaitingPieces.Most || i == faces.Count)
            {
                int count = waiting.Count;
                waiting.TakeShares(path, shares);
                for (int j = 0; j < count; j++)
                {
                    if (shares[j] >= 0.5)
                    {
                        seen.Add(asked[j]);
                    }
                }
            }

            if (i < faces.Count && IsFacing(faces[i], isTwoSided, path, out Vec3 normal))
            {
                asked[waiting.Count] = faces[i];
                waiting.Add(faces[i].Corners, normal);
            }
        }

        return seen;
    }

    // Whether transmitter and receiver lie on one and the same side; it is the same for the whole plane of a face.
    private static bool IsFacing(in FacetFace face, bool isTwoSided, in BouncePath path, out Vec3 normal)
    {
        normal = face.UnitNormal;
        double side1 = normal.Dot(path.Out.Position - face.Corners.A);
        double side2 = normal.Dot(path.Back.Position - face.Corners.A);
        if (isTwoSided && side1 < 0 && side2 < 0)
        {
            normal = -normal;
            return true;
        }

        return side1 > 0 && side2 > 0;
    }

    private static EchoSpectrum WithEdges(
        EchoSpectrum echo, FacetSurface surface, FacetSensor sensor, BandNodes nodes, List<BouncePath> paths, IRayScene? occluders)
    {
        List<WedgeEdge> edges = surface.Wedges();
        var sums = new EdgeAccumulator[edges.Count];
        Parallel.For(0, edges.Count, i =>
        {
            var sum = new EdgeAccumulator(nodes, sensor.Medium, surface);
            foreach (BouncePath path in paths)
            {
                sum.Add(edges[i], path, occluders, WaitingPieces.ShadowStartMetres);
            }

            sums[i] = sum;
        });
        var pressures = new Complex[echo.Band.Count];
        for (int j = 0; j < pressures.Length; j++)
        {
            pressures[j] = echo.Pressures[j];
            foreach (EdgeAccumulator sum in sums)
            {
                pressures[j] += new Complex(sum.Real[j], sum.Imaginary[j]);
            }
        }

        return echo.WithPressures([.. pressures]);
    }

    private static EchoSpectrum Collect(TriangleAccumulator[] sums, FacetSurface surface, FrequencyBand band, double wavelength)
    {
        var pressures = new Complex[band.Count];
        double nearest = double.PositiveInfinity;
        double farthest = 0.0;
        long facets = 0;
        foreach (TriangleAccumulator sum in sums)
        {
            for (int j = 0; j < pressures.Length; j++)
            {
                pressures[j] += new Complex(sum.Real[j], sum.Imaginary[j]);
            }

            nearest = Math.Min(nearest, sum.NearestPathMetres);
            farthest = Math.Max(farthest, sum.FarthestPathMetres);
            facets += sum.Facets;
        }

        return new EchoSpectrum(band, [.. pressures], facets > 0 ? nearest : 0.0, farthest)
        {
            FacetsSummed = facets,
            Withheld = surface.Coarseness.IsTooCoarseFor(wavelength)
                ? [surface.Coarseness.Explain(surface.Name, band.HighestHertz, wavelength)]
                : [],
        };
    }

    /// <summary>Splits large faces, so that there are enough pieces to share out.</summary>
    internal static ImmutableArray<FacetFace> Pieces(ImmutableArray<FacetFace> faces)
    {
        if (faces.Length >= LeastPieces)
        {
            return faces;
        }

        double largest = faces.Sum(face => face.AreaSquareMetres) / LeastPieces;
        var pieces = ImmutableArray.CreateBuilder<FacetFace>(4 * LeastPieces);
        Span<FacetQuad> parts = new FacetQuad[4];
        var pending = new Stack<FacetFace>(faces.Reverse());
        while (pending.TryPop(out FacetFace piece))
        {
            if (piece.AreaSquareMetres <= largest)
            {
                pieces.Add(piece);
                continue;
            }

            for (int i = piece.Corners.Split(parts) - 1; i >= 0; i--)
            {
                pending.Push(piece with { Corners = parts[i] });
            }
        }

        return pieces.ToImmutable();
    }

    private static void AddFace(
        in FacetFace face, bool isTwoSided, in BouncePath path, double factor, SurfaceIntegralOptions options, bool isAllSeen,
        ref WaitingPieces waiting, TriangleAccumulator sum)
    {
        if (!IsFacing(face, isTwoSided, path, out Vec3 normal) || IsTooFar(face.Corners, path, options.FarthestPathMetres))
        {
            return;
        }

        if (!MustSplit(face.Corners, path, factor))
        {
            AddPiece(face.Corners, normal, path, isAllSeen, ref waiting, sum);
            return;
        }

        var pending = new FacetPieces(face.Corners);
        while (pending.TryTake(out FacetQuad quad))
        {
            if (IsTooFar(quad, path, options.FarthestPathMetres) || (MustSplit(quad, path, factor) && pending.TrySplit(quad)))
            {
                continue;
            }

            AddPiece(quad, normal, path, isAllSeen, ref waiting, sum);
        }
    }

    private static void AddPiece(
        in FacetQuad piece, Vec3 normal, in BouncePath path, bool isAllSeen, ref WaitingPieces waiting, TriangleAccumulator sum)
    {
        if (isAllSeen)
        {
            sum.Add(piece, normal, 1.0, path);
            return;
        }

        waiting.Add(piece, normal);
        if (waiting.Count == WaitingPieces.Most)
        {
            waiting.MoveTo(sum, path);
        }
    }

    /// <summary>Whether the shortest path by way of a piece can not be short enough.</summary>
    private static bool IsTooFar(in FacetQuad quad, in BouncePath path, double farthest)
    {
        if (double.IsPositiveInfinity(farthest))
        {
            return false;
        }

        Vec3 centre = quad.CentreMetres;
        double radius = Math.Sqrt(quad.RadiusSquared);
        return centre.DistanceTo(path.Out.Position) + centre.DistanceTo(path.Back.Position) - (2.0 * radius) > farthest;
    }

    private static bool MustSplit(in FacetQuad quad, in BouncePath path, double factor)
    {
        Vec3 centre = quad.CentreMetres;
        double r1 = centre.DistanceTo(path.Out.Position);
        double r2 = centre.DistanceTo(path.Back.Position);
        double harmonicMean = 2.0 * r1 * r2 / (r1 + r2);
        double square = quad.RadiusSquared * (quad.IsParallelogram ? 0.25 : 1.0);
        return square > SmallestRadiusMetres * SmallestRadiusMetres && square > factor * harmonicMean;
    }
}
