using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// The vertices of all meshes relative to the centre of the scene in single precision, and the box of every primitive. It
/// exists only during building.
/// </summary>
internal sealed unsafe class SceneVertices : IDisposable
{
    private const int PieceSize = 2048;

    private readonly PrimitiveSet _primitives;
    private readonly NativeMemoryBlock _memory;
    private readonly int[] _firstVertex;

    public SceneVertices(PrimitiveSet primitives, Vec3 centre, WorkCrew crew)
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
                crew.ForEach(mesh.Vertices.Length, PieceSize, (first, end) =>
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

    /// <summary>
    /// Writes the box of every primitive, widened by a margin, with its number and run in the spare places, and returns the box
    /// around them.
    /// </summary>
    public Vector256<float> WriteBoxes(Vector256<float>* boxes, Vec3 centre, float marginMetres, WorkCrew crew)
    {
        Vector256<float> all = BoxVector.Empty;
        for (int i = 0; i < _primitives.Runs.Length; i++)
        {
            PrimitiveSet.Run run = _primitives.Runs[i];
            if (run.Mesh is not null)
            {
                all = BoxVector.Around(all, WriteTriangleBoxes(boxes, run, i, marginMetres, crew));
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
                    marginMetres, number, i);
                all = BoxVector.Around(all, boxes[number]);
            }
        }

        return all;
    }

    private Vector256<float> WriteTriangleBoxes(Vector256<float>* boxes, PrimitiveSet.Run run, int index, float margin, WorkCrew crew)
    {
        TriangleMesh mesh = run.Mesh!;
        Vector128<float>* vertices = Vertices + _firstVertex[index];
        int count = run.End - run.Start;
        var parts = new Vector256<float>[((count - 1) / PieceSize) + 1];
        crew.ForEach(count, PieceSize, (first, end) => parts[first / PieceSize] =
            WriteTriangleBoxes(boxes + run.Start, mesh, vertices, run.Start, index, first, end, margin));
        return parts.Aggregate(BoxVector.Around);
    }

    private static Vector256<float> WriteTriangleBoxes(
        Vector256<float>* boxes, TriangleMesh mesh, Vector128<float>* vertices, int start, int run, int first, int end, float margin)
    {
        Vector256<float> all = BoxVector.Empty;
        ReadOnlySpan<Facet> facets = mesh.Facets.AsSpan();
        for (int i = first; i < end; i++)
        {
            Facet facet = facets[i];
            Vector128<float> a = vertices[facet.A];
            Vector128<float> b = vertices[facet.B];
            Vector128<float> c = vertices[facet.C];
            Vector256<float> box = Pack(
                Vector128.MinNative(a, Vector128.MinNative(b, c)),
                Vector128.MaxNative(a, Vector128.MaxNative(b, c)),
                margin, start + i, run);
            boxes[i] = box;
            all = BoxVector.Around(all, box);
        }

        return all;
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
