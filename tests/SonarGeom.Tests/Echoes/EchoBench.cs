using System.Runtime.Intrinsics;
using SonarGeom.Air;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes;

/// <summary>Sensors for tests of echoes: a sensor that hears all round without absorption, and plain pistons.</summary>
internal static class EchoBench
{
    /// <summary>Dry ideal gas at 20 °C: 343.2 m/s, the speed behind the computed tables.</summary>
    internal static readonly EchoMedium Medium = new(AirState.Standard, SoundSpeedModel.DryIdealGas);

    internal static readonly double Wavenumber = 2 * Math.PI * 40_000 / 343.2;

    internal static readonly double Wavelength = 343.2 / 40_000;

    /// <summary>A part that sends and listens evenly all round, source level 0, air without loss.</summary>
    internal static PreparedTransducer Even { get; } = new(Part(EvenBeam.Instance, 0, 0), Medium, isLossless: true);

    internal static Transducer Part(
        Directivity beam, double separation, double sourceLevel, double threshold = 40, int cycles = 8, double q = 30,
        double blanking = 1e-3, double window = 60e-3, double kilohertz = 40, Directivity? receive = null) =>
        new(
            "test part", "for tests", Frequency.FromKilohertz(kilohertz), beam, receive ?? beam,
            new Vec3(0, 0.5 * separation, 0), new Vec3(0, -0.5 * separation, 0), sourceLevel, ThresholdProfile.Constant(threshold), -20,
            cycles, q, q, blanking, window, new TransducerEvidence("none", "none", 0, "made up for a test"));

    /// <summary>A part with a given figure of merit, build-up included.</summary>
    internal static Transducer WithFigureOfMerit(Directivity beam, double figureOfMerit, double separation = 0.026)
    {
        Transducer loud = Part(beam, separation, 110);
        return loud with { Threshold = ThresholdProfile.Constant(loud.SourceLevelDecibels + loud.BuildUpDecibels - figureOfMerit) };
    }

    internal static SensorAtPose At(PreparedTransducer prepared, Vec3 position, double azimuthDegrees = 0, double tiltDegrees = 0) =>
        new(prepared, new RigidTransform(
            Rotation.FromAzimuthTiltRoll(Angle.FromDegrees(azimuthDegrees), Angle.FromDegrees(tiltDegrees), Angle.Zero), position));

    /// <summary>Complex pressure at the nominal frequency for a source of unit pressure at 1 m.</summary>
    internal static (double Real, double Imaginary, double Magnitude) Pressure(SensorAtPose sensor, TargetPart part)
    {
        LaneComplex p = PartEchoes.Pressure(new EchoView(sensor, Vec3.Zero, sensor.Prepared.Centre), part, out _);
        return (p.Real[0], p.Imaginary[0], Math.Sqrt(p.Power[0]));
    }

    /// <summary>Target strength in use: |p|·R² as a level. [dB re 1 m]</summary>
    internal static double EffectiveTargetStrength(SensorAtPose sensor, TargetPart part, double range) =>
        20 * Math.Log10(Pressure(sensor, part).Magnitude * range * range);
}
