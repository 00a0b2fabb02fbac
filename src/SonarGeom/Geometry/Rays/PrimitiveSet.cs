using System.Collections.Immutable;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Every triangle and analytic primitive of a scene in double precision, numbered in the order in which they were added.
/// </summary>
internal sealed class PrimitiveSet
{
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
    public Bounds BoundsOfAll(ParallelOptions options)
    {
        object gate = new();
        Bounds all = Bounds.Empty;
        foreach (Run run in _runs)
        {
            Chunks.ForEach(run.End - run.Start, options, (first, end) =>
            {
                Bounds part = Bounds.Empty;
                for (int i = run.Start + first; i < run.Start + end; i++)
                {
                    part = part.With(run.Kind switch
                    {
                        PrimitiveKind.Triangle => run.TriangleAt(i).Bounds,
                        PrimitiveKind.Round => RoundAt(run, i).Bounds,
                        _ => BoxAt(run, i).Bounds,
                    });
                }

                lock (gate)
                {
                    all = all.With(part);
                }
            });
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
