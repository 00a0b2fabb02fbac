using SonarGeom.Air;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>The level that a transducer sends into ears: the wearer's, a bystander's, a guide dog's.</summary>
public sealed class SoundExposure
{
    // Nearer than this the level no longer follows spherical spreading.
    private const double NearestMetres = 0.02;
    private const double FarthestMetres = 100;

    private readonly Transducer _transducer;
    private readonly AirProperties _air;
    private readonly double _burstLevelDecibels;

    /// <summary>Prepares the levels of a transducer in an air.</summary>
    /// <param name="transducer">The transducer.</param>
    /// <param name="air">The state of the air.</param>
    public SoundExposure(Transducer transducer, AirState air)
    {
        ArgumentNullException.ThrowIfNull(transducer);
        ArgumentNullException.ThrowIfNull(air);
        _transducer = transducer;
        _air = AirProperties.Of(air, transducer.NominalFrequency);
        _burstLevelDecibels = transducer.SourceLevelDecibels
            + Decibels.FromAmplitudeRatio(BurstBuildUp.OneStage(transducer.BurstCycles, transducer.TransmitterQ));
    }

    /// <summary>Returns the rms level at the peak of a burst. [dB re 20 µPa]</summary>
    /// <param name="rangeMetres">The distance from the transmitter face, 0.02 to 100. [m]</param>
    /// <param name="unitDirection">The direction from the transmitter, a unit vector in the sensor frame.</param>
    /// <exception cref="ArgumentOutOfRangeException">The distance is outside its range.</exception>
    /// <remarks>Formula: <c>SL + 20·log₁₀(1 − e^(−πN/Q)) + 20·log₁₀|D| − 20·log₁₀ r − α·r</c>.</remarks>
    public double BurstLevelDecibels(double rangeMetres, Vec3 unitDirection)
    {
        Finite.Within(rangeMetres, NearestMetres, FarthestMetres, nameof(rangeMetres), "m");
        return _burstLevelDecibels - Decibels.FromAmplitudeRatio(rangeMetres)
            - (_air.AbsorptionDecibelsPerMetre * rangeMetres)
            + Decibels.FromAmplitudeRatio(_transducer.Transmit.Amplitude(unitDirection, _air.WavenumberRadiansPerMetre));
    }

    /// <summary>Returns how far the level averaged over a firing cycle is below that of the burst. [dB]</summary>
    /// <param name="cycleSeconds">The time from burst to burst, above the length of a burst. [s]</param>
    /// <exception cref="ArgumentOutOfRangeException">The cycle is shorter than the burst.</exception>
    public double DutyDecibels(double cycleSeconds) =>
        cycleSeconds >= _transducer.BurstSeconds && double.IsFinite(cycleSeconds)
            ? Decibels.FromPowerRatio(_transducer.BurstSeconds / cycleSeconds)
            : throw new ArgumentOutOfRangeException(
                nameof(cycleSeconds),
                $"The cycle is {cycleSeconds} s; it must be at least the burst of {_transducer.BurstSeconds} s.");

    /// <summary>Returns the distance on the boresight beyond which the burst stays below a level; 0 when it does from 0.02 m on. [m]</summary>
    /// <param name="levelDecibels">The level. [dB re 20 µPa]</param>
    public double DistanceMetres(double levelDecibels)
    {
        Finite.Or(levelDecibels, nameof(levelDecibels));
        double near = NearestMetres;
        double far = FarthestMetres;
        if (BurstLevelDecibels(near, Vec3.UnitX) <= levelDecibels)
        {
            return 0;
        }

        // The level falls steadily with distance.
        for (int i = 0; i < 60; i++)
        {
            double middle = 0.5 * (near + far);
            (near, far) = BurstLevelDecibels(middle, Vec3.UnitX) > levelDecibels ? (middle, far) : (near, middle);
        }

        return far;
    }
}
