using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Gathers a binary tree into wide nodes, decides where each node and patch lies in memory, and writes them. It exists only
/// during building.
/// </summary>
internal sealed unsafe class TreeWriter
{
    private readonly TreeBuilder _builder;
    private readonly List<(int Branch, uint Place)> _nodes = [];
    private readonly List<(int Branch, uint Place, int FirstSlot)> _leaves = [];
    private readonly List<int> _gathered = [];
    private readonly List<uint> _children = [];
    private uint _nextPlace;
    private int _nextSlot;

    public TreeWriter(TreeBuilder builder)
    {
        _builder = builder;
        _ = Reserve(sizeof(WideNode));
        Root = Place(builder.Root);
    }

    /// <summary>Gets the reference of the root.</summary>
    public uint Root { get; }

    /// <summary>Writes everything, and the number of the primitive in each slot.</summary>
    public NativeMemoryBlock Write(PrimitiveSet primitives, SceneVertices vertices, int[] numbers, ParallelOptions options)
    {
        NativeMemoryBlock memory = new(_nextPlace);
        byte* start = memory.Pointer;
        WriteEntrance((WideNode*)start);
        for (int i = 0; i < _nodes.Count; i++)
        {
            WriteNode((WideNode*)(start + _nodes[i].Place), i);
        }

        Chunks.ForEach(_leaves.Count, options, (first, end) =>
        {
            for (int i = first; i < end; i++)
            {
                (int index, uint place, int firstSlot) = _leaves[i];
                Branch* leaf = _builder.Branches + index;
                PatchCorners corners = default;
                bool isPatch = true;
                for (int j = 0; j < leaf->Count; j++)
                {
                    Vector256<float> box = _builder.Boxes[leaf->First + j];
                    numbers[firstSlot + j] = BitConverter.SingleToInt32Bits(box.GetElement(3));
                    isPatch = corners.TryAdd(box, primitives, vertices);
                }

                if (isPatch)
                {
                    corners.Write((TrianglePatch*)(start + place), firstSlot, vertices);
                }
                else
                {
                    *(SolidRecord*)(start + place) = SolidRecord.Of(primitives, numbers[firstSlot], firstSlot);
                }
            }
        });
        return memory;
    }

    private uint Place(int index)
    {
        Branch* branch = _builder.Branches + index;
        if (branch->Count > 0)
        {
            int slot = _nextSlot;
            _nextSlot += branch->Count;
            _leaves.Add((index, _nextPlace, slot));
            if (_builder.IsSolid(branch))
            {
                uint round = _builder.IsRound(branch) ? TreeReference.Round : 0;
                return TreeReference.Leaf | TreeReference.Solid | round | Reserve(sizeof(SolidRecord));
            }

            return TreeReference.Leaf | Reserve(sizeof(TrianglePatch));
        }

        Span<int> gathered = stackalloc int[WideNode.Width];
        int count = 0;
        Share(branch, WideNode.Width, gathered, ref count);
        OrderChildren(gathered[..count]);
        uint place = Reserve(sizeof(WideNode));
        int first = _children.Count;
        _nodes.Add((index, place));
        for (int i = 0; i < WideNode.Width; i++)
        {
            _children.Add(0);
            _gathered.Add(i < count ? gathered[i] : -1);
        }

        for (int i = 0; i < count; i++)
        {
            _children[first + i] = Place(gathered[i]);
        }

        return place;
    }

    // A search for any hit tries the children in order: those first that catch many rays for little work.
    private void OrderChildren(Span<int> children) => children.Sort((p, q) => Worth(q).CompareTo(Worth(p)));

    private float Worth(int index) => BoxVector.HalfArea(_builder.Branches[index].Box) / _builder.Branches[index].Costs[0];

    private uint Reserve(int bytes)
    {
        uint place = _nextPlace;
        if (place > uint.MaxValue - (uint)bytes)
        {
            throw new InvalidOperationException("The scene has too many triangles.");
        }

        _nextPlace += (uint)bytes;
        return place;
    }

    private void Share(Branch* branch, int places, Span<int> gathered, ref int count)
    {
        int k = TreeBuilder.BestShare(_builder.Branches[branch->Near], _builder.Branches[branch->Far], places, out _);
        Gather(branch->Near, k, gathered, ref count);
        Gather(branch->Far, places - k, gathered, ref count);
    }

    private void Gather(int index, int places, Span<int> gathered, ref int count)
    {
        Branch* branch = _builder.Branches + index;
        while (places > 1 && branch->Costs[places - 1] == branch->Costs[places - 2])
        {
            places--;
        }

        if (places == 1 || branch->Count > 0)
        {
            gathered[count++] = index;
            return;
        }

        Share(branch, places, gathered, ref count);
    }

    // The first node is not part of the tree: it is where a search starts, and where it knows that nothing is left.
    private void WriteEntrance(WideNode* node)
    {
        for (int i = 0; i < 6 * WideNode.Width; i++)
        {
            node->Planes[i] = (i / WideNode.Width) % 2 == 0 ? float.NegativeInfinity : float.PositiveInfinity;
        }

        node->Children[TreeReference.EndLane] = TreeReference.End;
        node->Children[TreeReference.RootLane] = Root;
    }

    private void WriteNode(WideNode* node, int number)
    {
        for (int i = 0; i < WideNode.Width; i++)
        {
            int child = _gathered[(number * WideNode.Width) + i];
            Vector256<float> box = child < 0 ? BoxVector.Empty : _builder.Branches[child].Box;
            for (int axis = 0; axis < 3; axis++)
            {
                node->Planes[(2 * axis * WideNode.Width) + i] = -box.GetElement(axis);
                node->Planes[(((2 * axis) + 1) * WideNode.Width) + i] = box.GetElement(axis + 4);
            }

            node->Children[i] = _children[(number * WideNode.Width) + i];
        }
    }
}
