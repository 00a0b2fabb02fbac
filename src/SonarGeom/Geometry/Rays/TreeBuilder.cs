using System.Numerics;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Builds the binary tree: cuts the primitives in two until a part is one patch of triangles or one analytic primitive, and
/// works out on the way back what each branch costs as one to eight children of a wide node. The threads of a crew share the
/// work: they cut the largest parts together, then each its own, and whoever has nothing left is handed the next part that is
/// cut off. The tree does not depend on how many there are.
/// </summary>
internal sealed unsafe class TreeBuilder : IDisposable
{
    // Smaller parts are not handed from thread to thread, or cut by all together.
    private const int LeastHandedOut = 256;
    private const int LeastTogether = 2048;

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
    private readonly SharedParts? _shared;
    private int _nextBlock;

    public TreeBuilder(PrimitiveSet primitives, SceneVertices vertices, Vec3 centre, float marginMetres, WorkCrew crew)
    {
        _primitives = primitives;
        _vertices = vertices;
        _count = primitives.Count;
        _partCost = primitives.Runs.Any(run => run.Mesh is not null) ? PartCostOfTriangles : PartCostOfSolids;
        _branches = new NativeMemoryBlock(((2L * _count) + (Block.Size * (1L + crew.Threads))) * sizeof(Branch));
        _boxes = new NativeMemoryBlock(_count * 64L);
        Boxes = (Vector256<float>*)_boxes.Pointer;
        Vector256<float> all = vertices.WriteBoxes(Boxes, centre, marginMetres, crew);
        Block block = default;
        Root = block.Take(ref _nextBlock);
        TreePart whole = new(0, _count, all, 0, InFirstList: true, Root);
        if (crew.Threads == 1 || _count < LeastTogether)
        {
            _ = Grow(whole, ref block);
        }
        else
        {
            _shared = new SharedParts();
            GrowTogether(whole, crew, ref block);
        }
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

    // All threads cut the largest part together until there is one for each of them.
    private void GrowTogether(TreePart whole, WorkCrew crew, ref Block block)
    {
        NativeMemoryBlock tables = BinnedSplit.TablesForCrew();
        List<TreePart> parts = [whole];
        while (parts.Count < crew.Threads)
        {
            TreePart largest = parts.MaxBy(part => part.Count);
            if (largest.Count < LeastTogether)
            {
                break;
            }

            _ = parts.Remove(largest);
            if (TryCut(largest, ref block, crew, tables, out TreePart near, out TreePart far))
            {
                parts.AddRange([near, far]);
                _shared!.Postpone(largest.Depth, largest.Index);
            }
        }

        tables.Free();
        _shared!.HandOut(parts);
        crew.ForEach(crew.Threads, 1, (_, _) =>
        {
            Block own = default;
            while (_shared.Next() is TreePart part)
            {
                try
                {
                    _ = Grow(part, ref own);
                }
                finally
                {
                    _shared.Finish();
                }
            }
        });
        foreach (int index in _shared.Postponed())
        {
            SetCosts(Branches + index);
        }
    }

    // Returns whether everything below is done; what another thread has taken may not be.
    private bool Grow(TreePart part, ref Block block)
    {
        if (!TryCut(part, ref block, null, null, out TreePart near, out TreePart far))
        {
            return true;
        }

        bool isComplete;
        if (_shared is not null && far.Count >= LeastHandedOut && _shared.IsAnyoneIdle && _shared.TryHandOut(far))
        {
            _ = Grow(near, ref block);
            isComplete = false;
        }
        else
        {
            isComplete = Grow(near, ref block) & Grow(far, ref block);
        }

        if (isComplete)
        {
            SetCosts(Branches + part.Index);
        }
        else
        {
            _shared!.Postpone(part.Depth, part.Index);
        }

        return isComplete;
    }

    // Cuts a part in two, or makes it a leaf.
    private bool TryCut(TreePart part, ref Block block, WorkCrew? crew, NativeMemoryBlock? tables, out TreePart near, out TreePart far)
    {
        Branch* branch = Branches + part.Index;
        Vector256<float>* source = Boxes + part.First + (part.InFirstList ? 0 : _count);
        Vector256<float>* target = Boxes + part.First + (part.InFirstList ? _count : 0);
        branch->Box = part.Box;
        if (IsLeaf(source, part.Count))
        {
            MakeLeaf(branch, part, source, target);
            (near, far) = (default, default);
            return false;
        }

        BinnedSplit split;
        if (part.Depth + BitOperations.Log2((uint)part.Count) + 1 >= DeepestCut)
        {
            split = new BinnedSplit { Axis = -1 };
        }
        else if (crew is null)
        {
            BinnedSplit.Find(source, part.Count, _partCost, out split);
        }
        else
        {
            BinnedSplit.Find(source, part.Count, _partCost, crew, tables!, out split);
        }

        bool inFirstList = part.InFirstList;
        if (split.Axis < 0)
        {
            HalveByOrder(source, part.Count, out split);
        }
        else
        {
            inFirstList = !inFirstList;
            if (crew is null)
            {
                split.Divide(source, target, part.Count);
            }
            else
            {
                split.Divide(source, target, part.Count, crew, tables!);
            }
        }

        branch->Count = 0;
        branch->Near = block.Take(ref _nextBlock);
        branch->Far = block.Take(ref _nextBlock);
        near = new(part.First, split.NearCount, split.NearBox, part.Depth + 1, inFirstList, branch->Near);
        far = new(part.First + split.NearCount, part.Count - split.NearCount, split.FarBox, part.Depth + 1, inFirstList, branch->Far);
        return true;
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

    private static void MakeLeaf(Branch* branch, TreePart part, Vector256<float>* source, Vector256<float>* other)
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

    /// <summary>A few consecutive branches that one thread may use.</summary>
    private struct Block
    {
        public const int Size = 64;

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
