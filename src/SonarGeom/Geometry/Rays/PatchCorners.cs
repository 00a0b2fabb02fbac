using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>Gathers triangles for one patch and finds the vertices that they share. It exists only during building.</summary>
internal unsafe struct PatchCorners
{
    private Vector512<int> _vertices;
    private CornerList _corners;
    private int _vertexCount;
    private int _triangleCount;

    /// <summary>Adds the triangle of a box, unless it is no triangle or needs more vertices than a patch holds.</summary>
    public bool TryAdd(Vector256<float> box, PrimitiveSet primitives, SceneVertices vertices)
    {
        int number = BitConverter.SingleToInt32Bits(box.GetElement(3));
        int runIndex = BitConverter.SingleToInt32Bits(box.GetElement(7));
        PrimitiveSet.Run run = primitives.Runs[runIndex];
        if (run.Mesh is not TriangleMesh mesh)
        {
            return false;
        }

        Facet facet = mesh.Facets[number - run.Start];
        int first = vertices.FirstVertexOf(runIndex);
        int a = PlaceOf(first + facet.A);
        int b = PlaceOf(first + facet.B);
        int c = PlaceOf(first + facet.C);
        if ((a | b | c) < 0)
        {
            return false;
        }

        int lane = _triangleCount++;
        _corners[lane] = (byte)a;
        _corners[lane + TrianglePatch.Capacity] = (byte)b;
        _corners[lane + (2 * TrianglePatch.Capacity)] = (byte)c;
        return true;
    }

    /// <summary>Writes the patch.</summary>
    public readonly void Write(TrianglePatch* patch, int firstSlot, SceneVertices vertices)
    {
        Vector128<float> low = Vector128.Create(float.PositiveInfinity);
        Vector128<float> high = Vector128.Create(float.NegativeInfinity);
        Vector128<float>* all = vertices.Vertices;
        for (int i = 0; i < TrianglePatch.Capacity; i++)
        {
            Vector128<float> v = all[_vertices.GetElement(i < _vertexCount ? i : 0)];
            low = Vector128.MinNative(low, v);
            high = Vector128.MaxNative(high, v);
            patch->Coordinates[i] = v.GetElement(0);
            patch->Coordinates[i + TrianglePatch.Capacity] = v.GetElement(1);
            patch->Coordinates[i + (2 * TrianglePatch.Capacity)] = v.GetElement(2);
        }

        for (int i = 0; i < 3 * TrianglePatch.Capacity; i++)
        {
            patch->Corners[i] = _corners[i];
        }

        Vector128<float> size = high - low;
        Vector128<float> reach = Vector128.MaxNative(Vector128.Abs(low), Vector128.Abs(high));
        patch->FirstSlot = firstSlot;
        patch->Used = (ushort)((1u << _triangleCount) - 1);
        patch->VertexCount = (ushort)_vertexCount;
        patch->SetBand(
            MathF.Sqrt(Vector128.Sum(size * size)) * 1.000001f,
            MathF.Max(reach.GetElement(0), MathF.Max(reach.GetElement(1), reach.GetElement(2))));
    }

    private int PlaceOf(int vertex)
    {
        uint known = (1u << _vertexCount) - 1;
        uint same = (uint)Vector512.Equals(_vertices, Vector512.Create(vertex)).ExtractMostSignificantBits() & known;
        if (same != 0)
        {
            return System.Numerics.BitOperations.TrailingZeroCount(same);
        }

        if (_vertexCount == TrianglePatch.Capacity)
        {
            return -1;
        }

        Unsafe.Add(ref Unsafe.As<Vector512<int>, int>(ref _vertices), _vertexCount) = vertex;
        return _vertexCount++;
    }

    [InlineArray(3 * TrianglePatch.Capacity)]
    private struct CornerList
    {
        private byte _first;
    }
}
