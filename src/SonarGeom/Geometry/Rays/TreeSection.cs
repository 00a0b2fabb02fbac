using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// A part of a search tree that one thread lays out and writes: a node at the top with other sections below it, or all that
/// hangs from a branch. Places and slots count from the start of the section until it is known where that lies.
/// </summary>
internal sealed unsafe class TreeSection
{
    private readonly TreeBuilder _builder;
    private readonly int _branch;
    private readonly List<(int Branch, uint Place)> _nodes = [];
    private readonly List<(int Branch, uint Place, int FirstSlot)> _leaves = [];
    private readonly List<int> _gathered = [];
    private readonly List<uint> _children = [];
    private uint _root;
    private uint _start;
    private int _startSlot;
    private uint _nextPlace;
    private int _nextSlot;

    /// <summary>Makes the section of a branch.</summary>
    /// <param name="builder">The binary tree.</param>
    /// <param name="branch">The branch.</param>
    /// <param name="isOneNode">Whether what hangs below the node of the branch lies in sections of its own.</param>
    public TreeSection(TreeBuilder builder, int branch, bool isOneNode)
    {
        _builder = builder;
        _branch = branch;
        if (isOneNode && builder.Branches[branch].Count == 0)
        {
            _root = AddNode(branch);
            Cut = [.. _gathered.Where(child => child >= 0)];
        }
    }

    /// <summary>Gets the branches below the one node, in order; none if the section holds everything below.</summary>
    public int[] Cut { get; } = [];

    /// <summary>Gets the sections of the branches below the one node.</summary>
    public List<TreeSection> Below { get; } = [];

    /// <summary>Gets the reference of the root of the section, once it is known where it lies.</summary>
    public uint Reference => _start + _root;

    /// <summary>Gets where the next section begins. [bytes]</summary>
    public uint EndPlace => _start + _nextPlace;

    /// <summary>Gets the first slot of the next section.</summary>
    public int EndSlot => _startSlot + _nextSlot;

    /// <summary>Lays out everything below the branch.</summary>
    public void Place()
    {
        if (Cut.Length == 0)
        {
            _root = Place(_branch);
        }
    }

    /// <summary>Says where the section lies.</summary>
    /// <exception cref="InvalidOperationException">References do not reach that far.</exception>
    public void MoveTo(uint place, int slot)
    {
        if (place > uint.MaxValue - _nextPlace)
        {
            throw TooLarge();
        }

        (_start, _startSlot) = (place, slot);
    }

    /// <summary>Writes the section, and the number and owner of the primitive in each of its slots.</summary>
    public void Write(byte* memory, PrimitiveSet primitives, SceneVertices vertices, int[] numbers, (int ObjectId, int PrimitiveId)[] owners)
    {
        byte* start = memory + _start;
        for (int i = 0; i < Below.Count; i++)
        {
            _children[i] = Below[i].Reference - _start;
        }

        for (int i = 0; i < _nodes.Count; i++)
        {
            WriteNode((WideNode*)(start + _nodes[i].Place), i);
        }

        foreach ((int index, uint place, int firstOfSection) in _leaves)
        {
            Branch* leaf = _builder.Branches + index;
            int firstSlot = _startSlot + firstOfSection;
            PatchCorners corners = default;
            bool isPatch = true;
            for (int j = 0; j < leaf->Count; j++)
            {
                Vector256<float> box = _builder.Boxes[leaf->First + j];
                int number = BitConverter.SingleToInt32Bits(box.GetElement(3));
                PrimitiveSet.Run run = primitives.Runs[BitConverter.SingleToInt32Bits(box.GetElement(7))];
                numbers[firstSlot + j] = number;
                owners[firstSlot + j] = (run.ObjectId, run.FirstPrimitiveId + (number - run.Start));
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

        int first = _children.Count;
        uint place = AddNode(index);
        for (int i = 0; i < WideNode.Width && _gathered[first + i] >= 0; i++)
        {
            _children[first + i] = Place(_gathered[first + i]);
        }

        return place;
    }

    private uint AddNode(int index)
    {
        Span<int> gathered = stackalloc int[WideNode.Width];
        gathered.Fill(-1);
        int count = 0;
        Share(_builder.Branches + index, WideNode.Width, gathered, ref count);
        OrderChildren(gathered[..count]);
        uint place = Reserve(sizeof(WideNode));
        _nodes.Add((index, place));
        for (int i = 0; i < WideNode.Width; i++)
        {
            _children.Add(0);
            _gathered.Add(gathered[i]);
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
            throw TooLarge();
        }

        _nextPlace += (uint)bytes;
        return place;
    }

    private static InvalidOperationException TooLarge() => new("The scene has too many triangles.");

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

            node->Children[i] = child < 0 ? 0 : _start + _children[(number * WideNode.Width) + i];
        }
    }
}
