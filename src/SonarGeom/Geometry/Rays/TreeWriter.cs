using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// Gathers a binary tree into wide nodes, decides where each node and patch lies in memory, and writes them. A crew works on
/// one section of the tree each; everything lies where it would lie if the whole tree were one section. It exists only during
/// building.
/// </summary>
internal sealed unsafe class TreeWriter
{
    private const int LeastShared = 2048;
    private const int LeastSharedDeeply = 65536;

    private readonly TreeBuilder _builder;
    private readonly WorkCrew _crew;
    private readonly List<TreeSection> _sections = [];
    private readonly uint _bytes = (uint)sizeof(WideNode);

    public TreeWriter(TreeBuilder builder, int count, WorkCrew crew)
    {
        _builder = builder;
        _crew = crew;
        int levels = crew.Threads == 1 || count < LeastShared ? 0 : count < LeastSharedDeeply ? 1 : 2;
        TreeSection root = Take(builder.Root, levels);
        crew.ForEach(_sections.Count, 1, (first, _) => _sections[first].Place());
        int slot = 0;
        foreach (TreeSection section in _sections)
        {
            section.MoveTo(_bytes, slot);
            _bytes = section.EndPlace;
            slot = section.EndSlot;
        }

        Root = root.Reference;
    }

    /// <summary>Gets the reference of the root.</summary>
    public uint Root { get; }

    /// <summary>Writes everything, and the number and owner of the primitive in each slot.</summary>
    public NativeMemoryBlock Write(PrimitiveSet primitives, SceneVertices vertices, int[] numbers, (int ObjectId, int PrimitiveId)[] owners)
    {
        NativeMemoryBlock memory = new(_bytes);
        WriteEntrance((WideNode*)memory.Pointer);
        _crew.ForEach(_sections.Count, 1, (first, _) => _sections[first].Write(memory.Pointer, primitives, vertices, numbers, owners));
        return memory;
    }

    // A section of its own for each of the topmost nodes, and for what hangs below them.
    private TreeSection Take(int branch, int levels)
    {
        TreeSection section = new(_builder, branch, isOneNode: levels > 0);
        _sections.Add(section);
        foreach (int child in section.Cut)
        {
            section.Below.Add(Take(child, levels - 1));
        }

        return section;
    }

    // The first node is not part of the tree: it is where a search starts, and where it knows that nothing is left.
    private void WriteEntrance(WideNode* node)
    {
        for (int i = 0; i < 6 * WideNode.Width; i++)
        {
            node->Planes[i] = (i / WideNode.Width) % 2 == 0 ? float.NegativeInfinity : float.PositiveInfinity;
        }

        for (int i = 0; i < WideNode.Width; i++)
        {
            node->Children[i] = TreeReference.End;
        }

        node->Children[TreeReference.EndLane] = TreeReference.End;
        node->Children[TreeReference.RootLane] = Root;
    }
}
