using System.Numerics;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Builds the binary tree: cuts the primitives in two until a part is one patch of triangles or one analytic primitive, and
/// works out on the way back what each branch costs as one to eight children of a wide node. Parts are shared out between
/// threads; the tree does not depend on how many there are.
/// </summary>
internal sealed unsafe class TreeBuilder : IDisposable
{
    private const int WorthATask = 4096;

    /// <summary>The largest number of cuts from the root to a leaf.</summary>
    public const int DeepestCut = 36;

    private const float NodeCost = 1f;
    private const float LeafCost = 1.5f;

    // A patch costs the same with one triangle as with all it can hold; a solid always fills its own leaf.
    private const float PartCostOfTriangles = 4;
    private const float PartCostOfSolids = 1;

    private readonly PrimitiveSet _primitives;
    private readonly SceneVertices _vertices;
    private readonly NativeMemoryBlock _branches;
    private readonly NativeMemoryBlock _boxes;
    private readonly int _count;
    private readonly float _partCost;
    private int _nextBlock;
    private int _idleThreads;

    public TreeBuilder(PrimitiveSet primitives, SceneVertices vertices, Vec3 centre, float marginMetres, ParallelOptions options)
    {
        _primitives = primitives;
        _vertices = vertices;
        _count = primitives.Count;
        _partCost = primitives.Runs.Any(run => run.Mesh is not null) ? PartCostOfTriangles : PartCostOfSolids;
        _idleThreads = options.MaxDegreeOfParallelism - 1;
        long branches = (2L * _count) + (Block.Size * (16L + (2L * _count / WorthATask)));
        _branches = new NativeMemoryBlock(branches * sizeof(Branch));
        _boxes = new NativeMemoryBlock(_count * 64L);
        Boxes = (Vector256<float>*)_boxes.Pointer;
        vertices.WriteBoxes(Boxes, centre, marginMetres, options);
        Vector256<float> all = BoxVector.Empty;
        for (int i = 0; i < _count; i++)
        {
            all = BoxVector.Around(all, Boxes[i]);
        }

        Block block = default;
        Root = Grow(new Part(0, _count, all, 0, InFirstList: true), ref block);
    }

    /// <summary>Gets the index of the root.</summary>
    public int Root { get; }

    /// <summary>Gets the boxes of all primitives, leaf by leaf.</summary>
    public Vector256<float>* Boxes { get; }

    /// <summary>Gets the branches.</summary>
    public Branch* Branches => (Branch*)_branches.Pointer;

    /// <summary>Returns the cheapest way to share a number of places between the two parts of a branch.</summary>
    public static int BestShare(in Branch near, in Branch far, int places, out float cost)
    {
        cost = float.PositiveInfinity;
        int best = 1;
        for (int k = 1; k < places; k++)
        {
            float sum = near.Costs[k - 1] + far.Costs[places - k - 1];
            if (sum < cost)
            {
                (cost, best) = (sum, k);
            }
        }

        return best;
    }

    /// <summary>Returns whether a leaf is one analytic primitive.</summary>
    public bool IsSolid(Branch* leaf) => leaf->Count == 1 && RunOf(leaf).Mesh is null;

    /// <summary>Returns whether the analytic primitive of a leaf is a sphere, capsule or cylinder.</summary>
    public bool IsRound(Branch* leaf) => RunOf(leaf).Kind == PrimitiveKind.Round;

    public void Dispose()
    {
        _branches.Free();
        _boxes.Free();
    }

    private PrimitiveSet.Run RunOf(Branch* leaf) => _primitives.Runs[BitConverter.SingleToInt32Bits(Boxes[leaf->First].GetElement(7))];

    private int Grow(Part part, ref Block block)
    {
        Vector256<float>* source = Boxes + part.First + (part.InFirstList ? 0 : _count);
        Vector256<float>* target = Boxes + part.First + (part.InFirstList ? _count : 0);
        int index = block.Take(ref _nextBlock);
        Branch* branch = Branches + index;
        branch->Box = part.Box;
        if (IsLeaf(source, part.Count))
        {
            MakeLeaf(branch, part, source, target);
            return index;
        }

        BinnedSplit split;
        if (part.Depth + BitOperations.Log2((uint)part.Count) + 1 < DeepestCut)
        {
            BinnedSplit.Find(source, part.Count, _partCost, out split);
        }
        else
        {
            split = new BinnedSplit { Axis = -1 };
        }

        bool inFirstList = part.InFirstList;
        if (split.Axis >= 0)
        {
            split.Divide(source, target, part.Count);
            inFirstList = !inFirstList;
        }
        else
        {
            HalveByOrder(source, part.Count, out split);
        }

        Part near = new(part.First, split.NearCount, split.NearBox, part.Depth + 1, inFirstList);
        Part far = new(part.First + split.NearCount, part.Count - split.NearCount, split.FarBox, part.Depth + 1, inFirstList);
        branch->Count = 0;
        if (part.Count > WorthATask && TryTakeThread())
        {
            Task<int> other = Task.Run(() =>
            {
                Block own = default;
                int result = Grow(far, ref own);
                _ = Interlocked.Increment(ref _idleThreads);
                return result;
            });
            branch->Near = Grow(near, ref block);
            branch->Far = other.GetAwaiter().GetResult();
        }
        else
        {
            branch->Near = Grow(near, ref block);
            branch->Far = Grow(far, ref block);
        }

        SetCosts(branch);
        return index;
    }

    private static void HalveByOrder(Vector256<float>* boxes, int count, out BinnedSplit split)
    {
        split = new BinnedSplit { NearCount = count / 2, NearBox = BoxVector.Empty, FarBox = BoxVector.Empty };
        for (int i = 0; i < count; i++)
        {
            if (i < split.NearCount)
            {
                split.NearBox = BoxVector.Around(split.NearBox, boxes[i]);
            }
            else
            {
                split.FarBox = BoxVector.Around(split.FarBox, boxes[i]);
            }
        }
    }

    private bool IsLeaf(Vector256<float>* boxes, int count)
    {
        if (count == 1)
        {
            return true;
        }

        if (count > TrianglePatch.Capacity)
        {
            return false;
        }

        PatchCorners corners = default;
        for (int i = 0; i < count; i++)
        {
            if (!corners.TryAdd(boxes[i], _primitives, _vertices))
            {
                return false;
            }
        }

        return true;
    }

    private static void MakeLeaf(Branch* branch, Part part, Vector256<float>* source, Vector256<float>* other)
    {
        branch->First = part.First;
        branch->Count = part.Count;
        if (!part.InFirstList)
        {
            for (int i = 0; i < part.Count; i++)
            {
                other[i] = source[i];
            }
        }

        float cost = BoxVector.HalfArea(part.Box) * LeafCost;
        for (int i = 0; i < WideNode.Width; i++)
        {
            branch->Costs[i] = cost;
        }
    }

    private void SetCosts(Branch* branch)
    {
        Branch* near = Branches + branch->Near;
        Branch* far = Branches + branch->Far;
        _ = BestShare(*near, *far, WideNode.Width, out float cost);
        branch->Costs[0] = cost + (BoxVector.HalfArea(branch->Box) * NodeCost);
        for (int places = 2; places <= WideNode.Width; places++)
        {
            _ = BestShare(*near, *far, places, out cost);
            branch->Costs[places - 1] = Math.Min(cost, branch->Costs[places - 2]);
        }
    }

    private bool TryTakeThread()
    {
        if (Volatile.Read(ref _idleThreads) > 0)
        {
            if (Interlocked.Decrement(ref _idleThreads) >= 0)
            {
                return true;
            }

            _ = Interlocked.Increment(ref _idleThreads);
        }

        return false;
    }

    private readonly record struct Part(int First, int Count, Vector256<float> Box, int Depth, bool InFirstList);

    /// <summary>A few consecutive branches that one thread may use.</summary>
    private struct Block
    {
        public const int Size = 256;

        private int _next;
        private int _left;

        public int Take(ref int nextBlock)
        {
            if (_left == 0)
            {
                _next = Interlocked.Add(ref nextBlock, Size) - Size;
                _left = Size;
            }

            _left--;
            return _next++;
        }
    }
}
