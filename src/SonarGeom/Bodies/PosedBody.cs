using System.Collections.Immutable;
using System.Runtime.InteropServices;
using SonarGeom.Geometry;

namespace SonarGeom.Bodies;

/// <summary>A body at one moment: where each of its parts is. Safe to share between threads.</summary>
public sealed class PosedBody
{
    private readonly ImmutableArray<RigidTransform> _worldFromSegment;
    private readonly TriangleMesh?[] _meshes = new TriangleMesh?[Segments.Count];

    internal PosedBody(Body body, ImmutableArray<RigidTransform> worldFromSegment)
    {
        Body = body;
        _worldFromSegment = worldFromSegment;
    }

    /// <summary>Gets the body.</summary>
    public Body Body { get; }

    internal ImmutableArray<RigidTransform> Transforms => _worldFromSegment;

    /// <summary>Returns where a part is.</summary>
    /// <param name="segment">A part that the body has.</param>
    /// <exception cref="ArgumentException">The body has no such part.</exception>
    public RigidTransform WorldFromSegment(SegmentId segment)
    {
        Body.Segment(segment);
        return _worldFromSegment[(int)segment];
    }

    /// <summary>Returns the closed surface of a part in the world frame.</summary>
    /// <param name="segment">A part that the body has.</param>
    /// <exception cref="ArgumentException">The body has no such part.</exception>
    public TriangleMesh Mesh(SegmentId segment)
    {
        int i = (int)segment;

        // Two threads may both make the mesh; both make the same one.
        return _meshes[i] ??= Moved(Body.Segment(segment).Surface, _worldFromSegment[i]);
    }

    /// <summary>Returns where a landmark is in the world. [m]</summary>
    /// <param name="name">Name of the landmark.</param>
    /// <exception cref="ArgumentException">The body has no such landmark.</exception>
    public Vec3 LandmarkMetres(string name)
    {
        Landmark landmark = Body.Landmark(name);
        return _worldFromSegment[(int)landmark.Segment].ApplyToPoint(landmark.PositionMetres);
    }

    private static TriangleMesh Moved(TriangleMesh mesh, RigidTransform worldFromSegment)
    {
        var vertices = new Vec3[mesh.Vertices.Length];
        for (int v = 0; v < vertices.Length; v++)
        {
            vertices[v] = worldFromSegment.ApplyToPoint(mesh.Vertices[v]);
        }

        return mesh with { Vertices = ImmutableCollectionsMarshal.AsImmutableArray(vertices) };
    }

    /// <summary>Returns the same moment turned about the upright axis through the origin.</summary>
    /// <param name="yaw">The turn, positive left.</param>
    public PosedBody TurnedBy(Quantities.Angle yaw)
    {
        var turn = new RigidTransform(Rotation.AboutZ(yaw), Vec3.Zero);
        return new PosedBody(Body, [.. _worldFromSegment.Select(t => turn * t)]);
    }

    /// <summary>Returns the same moment with left and right swapped, for a body that is itself symmetric.</summary>
    internal ImmutableArray<RigidTransform> MirroredTransforms()
    {
        var mirrored = new RigidTransform[Segments.Count];
        foreach (SegmentId segment in Segments.All)
        {
            RigidTransform t = _worldFromSegment[(int)segment];
            mirrored[(int)Segments.Mirrored(segment)] = new RigidTransform(
                new Rotation(
                    t.Rotation.AxisX.MirroredLeftRight(), -t.Rotation.AxisY.MirroredLeftRight(), t.Rotation.AxisZ.MirroredLeftRight()),
                t.Translation.MirroredLeftRight());
        }

        return [.. mirrored];
    }
}
