using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Mounting;

/// <summary>How a sensor on a garment or a lanyard swings about its place while its wearer walks.</summary>
/// <remarks>
/// A pendulum driven by the steps: it nods twice in a stride, with the rise and fall of the trunk, and turns from side to side once, with
/// the step of each foot: <c>tilt = A_t·cos 4π(p − l)</c>, <c>azimuth = A_a·cos 2π(p − l)</c> at the stride phase p with the lag l. How
/// far such mounts swing was not found published: the angles are the designer's own, measured or assumed. Half a stride on, the mirror
/// image of a swaying mount is that of the mirrored one.
/// </remarks>
public sealed record MountSway
{
    /// <summary>Makes a sway.</summary>
    /// <param name="tilt">How far it nods each way, from 0° to 45°.</param>
    /// <param name="azimuth">How far it turns each way, from 0° to 45°.</param>
    /// <param name="lagFraction">By how much of a stride it lags behind the left heel strike, from 0 to 1. [unitless]</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    public MountSway(Angle tilt, Angle azimuth, double lagFraction = 0)
    {
        Finite.Within(tilt.Degrees, 0, 45 + 1e-9, "Tilt of the sway", "°");
        Finite.Within(azimuth.Degrees, 0, 45 + 1e-9, "Azimuth of the sway", "°");
        Tilt = tilt;
        Azimuth = azimuth;
        LagFraction = Finite.Within(lagFraction, 0, 1, "Lag of the sway", "(no unit)");
    }

    /// <summary>Gets how far it nods each way.</summary>
    public Angle Tilt { get; }

    /// <summary>Gets how far it turns each way.</summary>
    public Angle Azimuth { get; }

    /// <summary>Gets by how much of a stride it lags behind the left heel strike. [unitless]</summary>
    public double LagFraction { get; }

    /// <summary>Returns how the sensor is turned in its own frame at a phase of the stride.</summary>
    /// <param name="stridePhase">Phase, 0 at the left heel strike. [unitless]</param>
    public Rotation At(double stridePhase)
    {
        double turn = 2 * Math.PI * (stridePhase - LagFraction);
        return Rotation.FromAzimuthTiltRoll(Math.Cos(turn) * Azimuth, Math.Cos(2 * turn) * Tilt, Angle.Zero);
    }
}
