using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// The vertices of all meshes relative to the centre of the scene in single precision, and the box of every primitive. It
/// exists only during building.
/// </summary>
internal sealed unsafe class SceneVertices : IDisposable
{
    private readonly PrimitiveSet _primitives;
    private readonly NativeMemoryBlock _memory;
    private readonly int[] _firstVertex;

    public SceneVertices(PrimitiveSet primitives, Vec3 centre, ParallelOptions options)
    {
        _primitives = primitives;
        _firstVertex = new int[primitives.Runs.Length];
        int total = 0;
        for (int i = 0; i < primitives.Runs.Length; i++)
        {
            _firstVertex[i] = total;
            total = checked(total + (primitives.Runs[i].Mesh?.Vertices.Length ?? 0));
        }

        _memory = new NativeMemoryBlock(total * 16L);
        Vector128<float>* all = (Vector128<float>*)_memory.Pointer;
        for (int i = 0; i < primitives.Runs.Length; i++)
        {
            if (primitives.Runs[i].Mesh is TriangleMesh mesh)
            {
                Vector128<float>* target = all + _firstVertex[i];
                Chunks.ForEach(mesh.Vertices.Length, options, (first, end) =>
                {
                    ReadOnlySpan<Vec3> vertices = mesh.Vertices.AsSpan();
                    for (int j = first; j < end; j++)
                    {
                        Vec3 v = vertices[j] - centre;
                        target[j] = Vector128.Create((float)v.X, (float)v.Y, (float)v.Z, 0);
                    }
                });
            }
        }
    }

    /// <summary>Gets the vertices of all meshes, mesh after mesh.</summary>
    public Vector128<float>* Vertices => (Vector128<float>*)_memory.Pointer;

    /// <summary>Returns the place of the first vertex of a run.</summary>
    public int FirstVertexOf(int run) => _firstVertex[run];

    public void Dispose() => _memory.Free();

    /// <summary>Writes the box of every primitive, widened by a margin, with its number and run in the spare places.</summary>
    public void WriteBoxes(Vector256<float>* boxes, Vec3 centre, float marginMetres, ParallelOptions options)
    {
        for (int i = 0; i < _primitives.Runs.Length; i++)
        {
            int index = i;
            PrimitiveSet.Run run = _primitives.Runs[i];
            if (run.Mesh is TriangleMesh mesh)
            {
                Chunks.ForEach(run.End - run.Start, options, (first, end) =>
                    WriteTriangleBoxes(boxes + run.Start, mesh, Vertices + _firstVertex[index], run.Start, index, first, end, marginMetres));
                continue;
            }

            for (int number = run.Start; number < run.End; number++)
            {
                Bounds bounds = _primitives.BoundsOf(number);
                Vec3 low = bounds.Low - centre;
                Vec3 high = bounds.High - centre;
                boxes[number] = Pack(
                    Vector128.Create((float)low.X, (float)low.Y, (float)low.Z, 0),
                    Vector128.Create((float)high.X, (float)high.Y, (float)high.Z, 0),
                    marginMetres, number, index);
            }
        }
    }

    private static void WriteTriangleBoxes(
        Vector256<float>* boxes, TriangleMesh mesh, Vector128<float>* vertices, int start, int run, int first, int end, float margin)
    {
        ReadOnlySpan<Facet> facets = mesh.Facets.AsSpan();
        for (int i = first; i < end; i++)
        {
            Facet facet = facets[i];
            Vector128<float> a = vertices[facet.A];
            Vector128<float> b = vertices[facet.B];
            Vector128<float> c = vertices[facet.C];
            boxes[i] = Pack(
                Vector128.MinNative(a, Vector128.MinNative(b, c)),
                Vector128.MaxNative(a, Vector128.MaxNative(b, c)),
                margin, start + i, run);
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Vector256<float> Pack(Vector128<float> low, Vector128<float> high, float margin, int number, int run)
    {
        Vector128<float> widened = Vector128.Create(margin);
        return Vector256.Create(
            (widened - low).WithElement(3, BitConverter.Int32BitsToSingle(number)),
            (high + widened).WithElement(3, BitConverter.Int32BitsToSingle(run)));
    }
}
