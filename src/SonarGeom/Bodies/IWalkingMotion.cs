using System.Collections.Immutable;

namespace SonarGeom.Bodies;

/// <summary>How a body moves as its wearer goes straight ahead. The ground under the middle of the pelvis, averaged over a stride,
/// stays at the origin; the way travelled is not part of it.</summary>
public interface IWalkingMotion
{
    /// <summary>Gets the body that moves.</summary>
    Body Body { get; }

    /// <summary>Gets the time of a stride: two steps. [s]</summary>
    double StrideSeconds { get; }

    /// <summary>Gets the walking speed. [m/s]</summary>
    double SpeedMetresPerSecond { get; }

    /// <summary>Gets what is assumed or uncertain about the motion, in sentences.</summary>
    ImmutableArray<string> Notes { get; }

    /// <summary>Returns the body at a phase of the stride.</summary>
    /// <param name="stridePhase">Phase, 0 at the left heel strike and 0.5 at the right; any number, of which the whole part is
    /// dropped. [unitless]</param>
    PosedBody PoseAt(double stridePhase);
}
