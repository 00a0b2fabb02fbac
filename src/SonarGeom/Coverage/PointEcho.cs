using System.Collections.Immutable;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Quantities;

namespace SonarGeom.Coverage;

/// <summary>Puts sensors before the level kernels: a probe that is small against its distance, in free air, at the nominal frequency.</summary>
/// <remarks>Left out against <see cref="PosedLayout.MarginDecibels(int, int, ProbeTarget, Vec3)"/>: the band of the burst, the
/// size of the probe against its range, and the wearer's own shadow. It screens; it does not judge.</remarks>
public static class PointEcho
{
    /// <summary>Returns the target strength of a rigid sphere that is large against the wavelength. [dB re 1 m]</summary>
    /// <param name="diameterMetres">Its diameter, above 0. [m]</param>
    /// <param name="reflectionLossDecibels">Loss of its surface, 0 or more. [dB]</param>
    /// <remarks>Formula: <c>20·log₁₀(a/2)</c>, a the radius; Urick, Principles of Underwater Sound, table 9.1 (from memory).</remarks>
    public static double SphereTargetStrengthDecibels(double diameterMetres, double reflectionLossDecibels = 0) =>
        Decibels.FromAmplitudeRatio(diameterMetres / 4) - reflectionLossDecibels;

    /// <summary>Returns the echo of a point-like probe for a transducer in given air.</summary>
    /// <param name="prepared">The transducer in its air; its beams must be axisymmetric.</param>
    /// <param name="targetStrengthDecibels">Target strength of the probe from all sides. [dB re 1 m]</param>
    /// <exception cref="ArgumentException">A beam is not axisymmetric.</exception>
    public static FieldEcho Of(PreparedTransducer prepared, double targetStrengthDecibels)
    {
        ArgumentNullException.ThrowIfNull(prepared);
        FieldBeam transmit = FieldBeam.Of(prepared.Transducer.Transmit, prepared.WavenumberRadiansPerMetre);
        FieldBeam receive = Equals(prepared.Transducer.Transmit, prepared.Transducer.Receive)
            ? transmit
            : FieldBeam.Of(prepared.Transducer.Receive, prepared.WavenumberRadiansPerMetre);
        return new FieldEcho(
            transmit,
            receive,
            prepared.Transducer.SourceLevelDecibels + prepared.Transducer.BuildUpDecibels + targetStrengthDecibels,
            prepared.AbsorptionDecibelsPerMetre,
            ThresholdOf(prepared));
    }

    /// <summary>Returns a mounted sensor through the stride, deaf from where the floor or a limb of the wearer answers first.</summary>
    /// <param name="echo">Its echo.</param>
    /// <param name="layout">The wearer, air and ground; the sensors worn now do not matter.</param>
    /// <param name="placement">The sensor.</param>
    /// <exception cref="ArgumentException">The body has no such site, or the sensor would end inside the body.</exception>
    public static FieldTrack Track(FieldEcho echo, PosedLayout layout, SensorPlacement placement)
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(placement);
        PosedSensor posed = layout.Pose(placement);
        return new FieldTrack(echo, [.. posed.Poses.Select((pose, phase) => new FieldPose(
            pose.TransmitterMetres, pose.ReceiverMetres, pose.Boresight, Math.Min(posed.FloorRangeMetres[phase], posed.LimbRangeMetres[phase])))]);
    }

    /// <summary>The threshold or the noise, whichever is higher, over range.</summary>
    private static FieldThreshold ThresholdOf(PreparedTransducer prepared)
    {
        double metresPerSecond = 0.5 * prepared.Medium.SoundSpeedMetresPerSecond;
        double noise = prepared.Transducer.NoiseLevelDecibels;
        var points = ImmutableArray.CreateBuilder<FieldThresholdPoint>();
        Transducers.ThresholdPoint? before = null;
        foreach (Transducers.ThresholdPoint point in prepared.Transducer.Threshold.Points)
        {
            // Where the profile crosses the noise there is a corner.
            if (before is { } last && (last.LevelDecibels - noise) * (point.LevelDecibels - noise) < 0)
            {
                double share = (noise - last.LevelDecibels) / (point.LevelDecibels - last.LevelDecibels);
                points.Add(new FieldThresholdPoint(metresPerSecond * (last.TimeSeconds + (share * (point.TimeSeconds - last.TimeSeconds))), noise));
            }

            points.Add(new FieldThresholdPoint(metresPerSecond * point.TimeSeconds, Math.Max(point.LevelDecibels, noise)));
            before = point;
        }

        return new FieldThreshold(points.ToImmutable(), prepared.DeadZoneMetres, prepared.WindowRangeMetres);
    }
}
