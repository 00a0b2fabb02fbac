using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>A node of the binary tree from which the wide nodes are gathered. It exists only during building.</summary>
[StructLayout(LayoutKind.Sequential)]
internal unsafe struct Branch
{
    /// <summary>The box.</summary>
    public Vector256<float> Box;

    /// <summary>The least cost of this branch as 1 to 8 children of a wide node.</summary>
    public fixed float Costs[WideNode.Width];

    /// <summary>The first primitive, for a leaf.</summary>
    public int First;

    /// <summary>The number of primitives of a leaf; 0 for an inner branch.</summary>
    public int Count;

    /// <summary>The near part.</summary>
    public int Near;

    /// <summary>The far part.</summary>
    public int Far;
}
