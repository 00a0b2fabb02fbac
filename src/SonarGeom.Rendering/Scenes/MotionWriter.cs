using System.Collections.Immutable;
using System.Numerics;
using SharpGLTF.Schema2;
using SharpGLTF.Transforms;
using SonarGeom.Geometry;

namespace SonarGeom.Rendering.Scenes;

/// <summary>Writes one animation for all that moves in a scene.</summary>
internal sealed class MotionWriter(ModelRoot model, string name)
{
    private Animation? _animation;

    /// <summary>Moves a node.</summary>
    /// <param name="node">The node.</param>
    /// <param name="keys">Where it is, at rising moments.</param>
    /// <exception cref="ArgumentException">There is no moment, or the moments do not rise.</exception>
    internal void Add(Node node, ImmutableArray<SceneKey> keys)
    {
        if (keys.IsDefaultOrEmpty || keys.Zip(keys.Skip(1)).Any(p => !(p.Second.Seconds > p.First.Seconds)))
        {
            throw new ArgumentException($"What moves needs moments that rise; those of \"{node.Name}\" do not.", nameof(keys));
        }

        var places = new Dictionary<float, Vector3>();
        var turns = new Dictionary<float, Quaternion>();
        Quaternion before = Quaternion.Identity;
        foreach (SceneKey key in keys)
        {
            Quaternion turn = QuaternionOf(key.WorldFromItem.Rotation);

            // Of the two that stand for one rotation, the one nearer to the last: viewers must not turn the long way round.
            turn = Quaternion.Dot(before, turn) < 0 ? Quaternion.Negate(turn) : turn;
            before = turn;
            places[(float)key.Seconds] = GltfAxes.FromWorld(key.WorldFromItem.Translation);
            turns[(float)key.Seconds] = turn;
        }

        SceneKey first = keys[0];
        node.LocalTransform = new AffineTransform(null, turns[(float)first.Seconds], places[(float)first.Seconds]);
        if (keys.Length > 1)
        {
            _animation ??= model.CreateAnimation(name);
            _animation.CreateTranslationChannel(node, places, true);
            _animation.CreateRotationChannel(node, turns, true);
        }
    }

    // The axes change by a rotation alone: so does the axis of the quaternion.
    private static Quaternion QuaternionOf(in Rotation rotation)
    {
        Vector3 x = Turned(rotation, Vector3.UnitX), y = Turned(rotation, Vector3.UnitY), z = Turned(rotation, Vector3.UnitZ);
        return Quaternion.Normalize(Quaternion.CreateFromRotationMatrix(
            new Matrix4x4(x.X, x.Y, x.Z, 0, y.X, y.Y, y.Z, 0, z.X, z.Y, z.Z, 0, 0, 0, 0, 1)));
    }

    private static Vector3 Turned(in Rotation rotation, Vector3 axis) => GltfAxes.FromWorld(rotation.Apply(GltfAxes.ToWorld(axis)));
}
