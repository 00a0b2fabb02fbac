using SonarGeom.Air;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Studies.FieldTests;

/// <summary>Where a target stands in a field test.</summary>
/// <param name="Target">The target.</param>
/// <param name="RangeMetres">From the middle of the sensor to its nearest point, to the middle of a board; 0.05 to 30. [m]</param>
/// <param name="OffAxis">Its direction, positive left of the boresight, within 90°.</param>
/// <param name="Turn">By how much a board is turned from facing the sensor, positive left.</param>
public sealed record FieldPosition(FieldTarget Target, double RangeMetres, Angle OffAxis, Angle Turn)
{
    /// <summary>Gets the range. [m]</summary>
    public double RangeMetres { get; init; } = Finite.Within(RangeMetres, 0.05, 30, "Range of the target", "m");
}

/// <summary>What is expected at one position.</summary>
/// <param name="MarginDecibels">Echo less threshold; −∞ in the dead zone or after the listening window. [dB]</param>
/// <param name="ClearanceDecibels">Threshold less noise at the time of the echo. [dB]</param>
/// <param name="UncertaintyDecibels">The margin is known to plus or minus this much: figure of merit and absorption. [dB]</param>
public readonly record struct FieldEcho(double MarginDecibels, double ClearanceDecibels, double UncertaintyDecibels);

/// <summary>Echoes of test targets before a transducer on a stand, clear of floor and walls.</summary>
internal static class FieldModel
{
    private const double AbsorptionUncertaintyFraction = 0.25;

    internal static FieldEcho EchoOf(PreparedTransducer prepared, FieldPosition position)
    {
        TargetPart part = position.Target.PartAt(position.RangeMetres, position.OffAxis, position.Turn);
        BandEcho echo = PartEchoes.EvaluateBand(new SensorAtPose(prepared, RigidTransform.Identity), part, Vec3.Zero);
        Transducer transducer = prepared.Transducer;
        double time = 2 * echo.RangeMetres / prepared.Medium.SoundSpeedMetresPerSecond;
        double threshold = transducer.DetectionThresholdDecibels(time);
        bool heard = echo.RangeMetres >= prepared.DeadZoneMetres && echo.RangeMetres <= prepared.WindowRangeMetres;
        double absorbed = AbsorptionUncertaintyFraction * 2 * prepared.AbsorptionDecibelsPerMetre * position.RangeMetres;
        double merit = transducer.Evidence.FigureOfMeritUncertaintyDecibels;
        return new FieldEcho(
            heard ? echo.LevelDecibels - threshold : double.NegativeInfinity, threshold - transducer.NoiseLevelDecibels, Math.Sqrt((merit * merit) + (absorbed * absorbed)));
    }

    /// <summary>Returns the radius of the round piston whose beam is as wide as that of a transmitter where it has fallen by 6 dB. [m]</summary>
    internal static double RadiusMetres(Transducer transducer)
    {
        if (transducer.Transmit is CircularPiston piston)
        {
            return piston.RadiusMetres;
        }

        // 2·J₁(x)/x is −6 dB at x = 2.2118.
        double wavenumber = new EchoMedium(AirState.Standard).WavenumberRadiansPerMetre(transducer.NominalFrequency);
        return 2.2118 / (wavenumber * Math.Sin(transducer.Transmit.HalfAngleAt(-6, wavenumber).Radians));
    }

    /// <summary>Returns a transducer with a round piston of another radius.</summary>
    internal static Transducer WithRadius(Transducer transducer, double radiusMetres)
    {
        var piston = new CircularPiston(radiusMetres);
        return transducer with { Transmit = piston, Receive = piston };
    }

    /// <summary>Returns a transducer with another figure of merit: threshold and noise move, the level that it sends stays.</summary>
    internal static Transducer WithMerit(Transducer transducer, double gainDecibels) => transducer with
    {
        Threshold = transducer.Threshold.RaisedBy(-gainDecibels),
        NoiseLevelDecibels = transducer.NoiseLevelDecibels - gainDecibels,
    };
}
