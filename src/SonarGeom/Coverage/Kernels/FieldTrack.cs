using System.Collections.Immutable;

namespace SonarGeom.Coverage.Kernels;

/// <summary>One mounted sensor through the stride: the same echo from a row of poses. Immutable.</summary>
public sealed class FieldTrack
{
    /// <summary>Makes a track.</summary>
    /// <param name="echo">What the echo level depends on besides the pose.</param>
    /// <param name="phases">The pose at each stride phase, at least one.</param>
    /// <exception cref="ArgumentException">There is no pose, a position is not finite, an axis is not a unit vector, or a farthest range is not above 0.</exception>
    public FieldTrack(FieldEcho echo, ImmutableArray<FieldPose> phases)
    {
        ArgumentNullException.ThrowIfNull(echo);
        if (phases.IsDefaultOrEmpty)
        {
            throw new ArgumentException("A track needs at least one phase.", nameof(phases));
        }

        for (int i = 0; i < phases.Length; i++)
        {
            FieldPose pose = phases[i];
            if (!pose.TransmitterMetres.IsFinite || !pose.ReceiverMetres.IsFinite || !(Math.Abs(pose.UnitAxis.Length - 1) < 1e-6) || !(pose.FarthestRangeMetres > 0))
            {
                throw new ArgumentException($"The pose at phase {i} must have finite positions, a unit axis and a farthest range above 0; it is {pose}.", nameof(phases));
            }
        }

        Echo = echo;
        Phases = phases;
    }

    /// <summary>Gets what the echo level depends on besides the pose.</summary>
    public FieldEcho Echo { get; }

    /// <summary>Gets the pose at each stride phase.</summary>
    public ImmutableArray<FieldPose> Phases { get; }
}
