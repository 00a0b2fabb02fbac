using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// The primitives of a scene in a tree of boxes eight children wide. Nodes and patches of triangles lie in one block of memory
/// in the order in which a search meets them. Positions in it are relative to the centre of the scene, in single precision.
/// </summary>
internal sealed unsafe partial class SearchTree
{
    // A box is widened by this share of the size of the scene, 32 times the rounding of its largest coordinate. Rounding of
    // origin, direction, reciprocals and products moves a plane by less than 10 of these units.
    private const double MarginShare = 32.0 / (1 << 24);

    // Smaller trees are built before a second thread has begun.
    private const int WorthACrew = 2048;

    private readonly PrimitiveSet _primitives;
    private readonly NativeMemoryBlock _memory;
    private readonly int[] _numbers;
    private readonly (int ObjectId, int PrimitiveId)[] _owners;
    private readonly Vec3 _centre;
    private readonly Bounds _bounds;
    private readonly uint _root;

    // Centre, ranges of origins and of directions in which a ray gets the plain treatment; the last place is that of its ends.
    private readonly Vector256<double> _origin;
    private readonly Vector256<double> _leastOrigin;
    private readonly Vector256<double> _mostOrigin;
    private readonly Vector256<double> _mostDirection = Vector256.Create(1.0001, 1.0001, 1.0001, double.PositiveInfinity);

    public SearchTree(PrimitiveSet primitives, int threads)
    {
        _primitives = primitives;
        using WorkCrew crew = new(primitives.Count < WorthACrew ? 1 : threads == 0 ? WorkCrew.ThreadsAtHand : threads);
        _bounds = primitives.BoundsOfAll(crew);
        _numbers = GC.AllocateUninitializedArray<int>(primitives.Count);
        _owners = GC.AllocateUninitializedArray<(int, int)>(primitives.Count);
        if (primitives.Count == 0)
        {
            _leastOrigin = Vector256.Create(double.PositiveInfinity);
            _memory = new NativeMemoryBlock(0);
            return;
        }

        _centre = _bounds.Centre;
        Vec3 half = _bounds.High - _centre;
        double margin = MarginShare * Math.Max(half.X, Math.Max(half.Y, half.Z));
        Vec3 slack = new(margin, margin, margin);
        _bounds = new Bounds(_bounds.Low - slack, _bounds.High + slack);

        _origin = Vector256.Create(_centre.X, _centre.Y, _centre.Z, 0);
        _leastOrigin = Vector256.Create(_bounds.Low.X, _bounds.Low.Y, _bounds.Low.Z, 0);
        _mostOrigin = Vector256.Create(_bounds.High.X, _bounds.High.Y, _bounds.High.Z, 0);

        using SceneVertices vertices = new(primitives, _centre, crew);
        using TreeBuilder builder = new(primitives, vertices, _centre, (float)margin, crew);
        TreeWriter writer = new(builder, primitives.Count, crew);
        _root = writer.Root;
        _memory = writer.Write(primitives, vertices, _numbers, _owners);
    }

    /// <summary>Gets the number of primitives.</summary>
    public int PrimitiveCount => _numbers.Length;

    /// <summary>Gets the bytes that the tree takes up.</summary>
    public long Bytes => _memory.Bytes + (12L * _numbers.Length);

    /// <summary>Returns whether another tree is the same, byte for byte.</summary>
    public bool IsSameAs(SearchTree other) =>
        _root == other._root && _bounds == other._bounds && _memory.Bytes == other._memory.Bytes
        && new ReadOnlySpan<byte>(_memory.Pointer, (int)_memory.Bytes).SequenceEqual(new(other._memory.Pointer, (int)other._memory.Bytes))
        && _numbers.AsSpan().SequenceEqual(other._numbers) && _owners.AsSpan().SequenceEqual(other._owners);

    /// <summary>Returns a hit with the numbers that the owner of the primitive gave.</summary>
    public RayHit HitOf(Found found)
    {
        (int objectId, int primitiveId) = _owners[found.Slot];
        return new RayHit(found.DistanceMetres, objectId, primitiveId);
    }
}
