using System.Collections.Immutable;
using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Every triangle and analytic primitive of a scene in double precision, numbered in the order in which they were added.
/// </summary>
internal sealed class PrimitiveSet
{
    private const int PieceSize = 2048;

    private readonly ImmutableArray<Run> _runs;
    private readonly ImmutableArray<RoundShape> _rounds;
    private readonly ImmutableArray<BoxShape> _boxes;

    public PrimitiveSet(ImmutableArray<Run> runs, ImmutableArray<RoundShape> rounds, ImmutableArray<BoxShape> boxes)
    {
        _runs = runs;
        _rounds = rounds;
        _boxes = boxes;
        Count = runs.IsEmpty ? 0 : runs[^1].End;
    }

    /// <summary>Gets the number of primitives.</summary>
    public int Count { get; }

    /// <summary>Gets the primitives of one kind added one after another.</summary>
    public ImmutableArray<Run> Runs => _runs;

    /// <summary>Returns the box around one primitive.</summary>
    public Bounds BoundsOf(int number)
    {
        Run run = RunOf(number);
        return run.Kind switch
        {
            PrimitiveKind.Triangle => run.TriangleAt(number).Bounds,
            PrimitiveKind.Round => RoundAt(run, number).Bounds,
            _ => BoxAt(run, number).Bounds,
        };
    }

    /// <summary>Returns the box around all primitives.</summary>
    public Bounds BoundsOfAll(WorkCrew crew)
    {
        Bounds all = Bounds.Empty;
        foreach (Run run in _runs)
        {
            all = all.With(run.End - run.Start <= PieceSize ? BoundsOf(run, run.Start, run.End) : BoundsInPieces(run, crew));
        }

        return all;
    }

    /// <summary>Returns the round shape with a number, or null if it is no round shape.</summary>
    public RoundShape? RoundOf(int number) =>
        RunOf(number) is { Kind: PrimitiveKind.Round } run ? RoundAt(run, number) : null;

    /// <summary>Returns the box with a number.</summary>
    public BoxShape BoxOf(int number) => BoxAt(RunOf(number), number);

    /// <summary>Returns the distance from the origin of a ray to one primitive, or null.</summary>
    public double? Intersect(int number, in Ray ray)
    {
        Run run = RunOf(number);
        return run.Kind switch
        {
            PrimitiveKind.Triangle => run.TriangleAt(number).Intersect(ray),
            PrimitiveKind.Round => RoundAt(run, number).Intersect(ray),
            _ => BoxAt(run, number).Intersect(ray),
        };
    }

    /// <summary>Returns the hit on one primitive at a distance, with the numbers its owner gave.</summary>
    public RayHit HitOf(int number, double distanceMetres)
    {
        Run run = RunOf(number);
        return new RayHit(distanceMetres, run.ObjectId, run.FirstPrimitiveId + (number - run.Start));
    }

    // Corners are loaded four numbers at a time; the last position of the mesh, which nothing follows, three.
    private static Bounds BoundsOf(TriangleMesh mesh, int first, int end)
    {
        ReadOnlySpan<Facet> facets = mesh.Facets.AsSpan();
        ref readonly double numbers = ref Unsafe.As<Vec3, double>(ref MemoryMarshal.GetReference(mesh.Vertices.AsSpan()));
        int last = mesh.Vertices.Length - 1;
        Vec3 position = mesh.Vertices[last];
        Vector256<double> ofLast = Vector256.Create(position.X, position.Y, position.Z, 0);
        Vector256<double> low = Vector256.Create(double.PositiveInfinity);
        Vector256<double> high = Vector256.Create(double.NegativeInfinity);
        for (int i = first; i < end; i++)
        {
            Facet facet = facets[i];
            Vector256<double> a = facet.A == last ? ofLast : Vector256.LoadUnsafe(in numbers, 3 * (nuint)facet.A);
            Vector256<double> b = facet.B == last ? ofLast : Vector256.LoadUnsafe(in numbers, 3 * (nuint)facet.B);
            Vector256<double> c = facet.C == last ? ofLast : Vector256.LoadUnsafe(in numbers, 3 * (nuint)facet.C);
            low = Vector256.Min(Vector256.Min(low, a), Vector256.Min(b, c));
            high = Vector256.Max(Vector256.Max(high, a), Vector256.Max(b, c));
        }

        return new Bounds(
            new Vec3(low.ToScalar(), low.GetElement(1), low.GetElement(2)),
            new Vec3(high.ToScalar(), high.GetElement(1), high.GetElement(2)));
    }

    private Bounds BoundsInPieces(Run run, WorkCrew crew)
    {
        int count = run.End - run.Start;
        var parts = new Bounds[((count - 1) / PieceSize) + 1];
        crew.ForEach(count, PieceSize, (first, end) => parts[first / PieceSize] = BoundsOf(run, run.Start + first, run.Start + end));
        return parts.Aggregate((all, part) => all.With(part));
    }

    private Bounds BoundsOf(Run run, int first, int end)
    {
        if (run.Mesh is TriangleMesh mesh)
        {
            return BoundsOf(mesh, first - run.Start, end - run.Start);
        }

        Bounds all = Bounds.Empty;
        for (int i = first; i < end; i++)
        {
            all = all.With(run.Kind == PrimitiveKind.Round ? RoundAt(run, i).Bounds : BoxAt(run, i).Bounds);
        }

        return all;
    }

    private RoundShape RoundAt(Run run, int number) => _rounds[run.FirstShape + (number - run.Start)];

    private BoxShape BoxAt(Run run, int number) => _boxes[run.FirstShape + (number - run.Start)];

    private Run RunOf(int number)
    {
        int low = 0;
        int high = _runs.Length - 1;
        while (low < high)
        {
            int middle = (low + high + 1) >> 1;
            (low, high) = _runs[middle].Start <= number ? (middle, high) : (low, middle - 1);
        }

        return _runs[low];
    }

    /// <summary>Consecutive primitives of one kind and one object.</summary>
    /// <param name="Kind">The kind.</param>
    /// <param name="Start">Number of the first.</param>
    /// <param name="End">One more than the number of the last.</param>
    /// <param name="ObjectId">The caller's number for the object.</param>
    /// <param name="FirstPrimitiveId">Number of the first within the object.</param>
    /// <param name="FirstShape">Place of the first among the shapes of its kind.</param>
    /// <param name="Mesh">The mesh, for triangles.</param>
    internal sealed record Run(
        PrimitiveKind Kind, int Start, int End, int ObjectId, int FirstPrimitiveId, int FirstShape, TriangleMesh? Mesh)
    {
        public TriangleShape TriangleAt(int number)
        {
            Facet facet = Mesh!.Facets[number - Start];
            return new(Mesh.Vertices[facet.A], Mesh.Vertices[facet.B], Mesh.Vertices[facet.C]);
        }
    }
}

/// <summary>What a primitive is.</summary>
internal enum PrimitiveKind
{
    /// <summary>A triangle of a mesh.</summary>
    Triangle,

    /// <summary>A sphere, capsule or cylinder.</summary>
    Round,

    /// <summary>A box.</summary>
    Box,
}
