using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Waveforms;

/// <summary>Pings at foliage computed leaf by leaf: the other engine beside the closed form of the mean.</summary>
/// <param name="MeanDecibels">Mean power over the pings at the moment that the closed form tells; −300 for none. [dB re 20 µPa]</param>
/// <param name="NineInTenDecibels">The level that the strongest moment of nine pings in ten exceeds, up to the last moment that the closed form
/// counts; −300 for none. [dB re 20 µPa]</param>
/// <param name="Pings">Number of pings, each with leaves of its own.</param>
/// <param name="Leaves">Number of leaves of each.</param>
public sealed record FoliageEnsemble(double MeanDecibels, double NineInTenDecibels, int Pings, int Leaves)
{
    /// <summary>The number of pings unless told otherwise.</summary>
    public const int UsualPings = 300;

    private const double StepBehindMetres = 0.25;
    private const int StepsPerTone = 16;

    /// <summary>Gets what the mean may be off by chance, one standard deviation of a Rayleigh echo. [dB]</summary>
    public double StandardErrorDecibels => Decibels.FromPowerRatio(1 + (1 / Math.Sqrt(Pings)));

    /// <summary>Sends pings at foliage, each time with other places and attitudes of its leaves.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The foliage, of at most a million leaves.</param>
    /// <param name="pings">Number of pings, at least 10.</param>
    /// <param name="seed">Seed; the same seed gives the same leaves.</param>
    public static FoliageEnsemble Of(SensorAtPose sensor, FoliagePart part, int pings = UsualPings, int seed = 1)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        ArgumentNullException.ThrowIfNull(part);
        ArgumentOutOfRangeException.ThrowIfLessThan(pings, 10);
        var leaves = new Foliage(part);
        FoliageLevels closed = FoliageEcho.Evaluate(sensor, part);
        if (closed.IsSilent)
        {
            return new FoliageEnsemble(PartEcho.SilentDecibels, PartEcho.SilentDecibels, pings, leaves.LeafCount);
        }

        BurstDrive drive = BurstDrive.Of(sensor.Transducer);
        double speed = sensor.Prepared.Medium.SoundSpeedMetresPerSecond, farthest = 2 * (closed.RangeMetres + StepBehindMetres);

        // What comes later than the last moment cannot be heard at it. No path is shorter than to the nearest point of the ball round the leaves.
        double nearest = Math.Max(0, 2 * (sensor.MidpointMetres.DistanceTo(part.Middle) - part.HalfAxesMetres.Length));
        FrequencyBand band = drive.BandFor(speed, farthest - nearest + 0.02);
        EnsembleEcho echo = (leaves with { FarthestPathMetres = farthest }).Evaluate(SensorBands.FacetSensor(sensor, band), band, pings, seed);
        double peak = sensor.Prepared.BurstPower.PeakSeconds, moment = (2 * closed.StrongestRangeMetres / speed) + peak;
        double from = Math.Max(sensor.Prepared.DeadZoneMetres, closed.StrongestRangeMetres - StepBehindMetres), last = closed.RangeMetres;
        var powers = new double[pings];
        var peaks = new double[pings];
        Parallel.For(0, pings, i =>
        {
            var envelope = EchoEnvelope.Of(echo.Members[i], drive, speed, StepsPerTone);
            powers[i] = Power(envelope.At(moment));
            for (int n = 0; n < envelope.Samples.Length; n++)
            {
                double range = 0.5 * speed * (envelope.StartSeconds + (n * envelope.StepSeconds) - peak);
                peaks[i] = range >= from && range <= last ? Math.Max(peaks[i], Power(envelope.Samples[n])) : peaks[i];
            }
        });

        // The envelope holds the build-up of the burst; the source level of a continuous tone is added.
        double source = sensor.Transducer.SourceLevelDecibels;
        return new FoliageEnsemble(
            source + Decibels.FromPowerRatio(powers.Average()), source + Decibels.FromPowerRatio(LowTenth(peaks)), pings, leaves.LeafCount);
    }

    private static double Power(System.Numerics.Complex value) => (value.Real * value.Real) + (value.Imaginary * value.Imaginary);

    private static double LowTenth(double[] powers)
    {
        double[] sorted = [.. powers.Order()];
        double position = 0.1 * (sorted.Length - 1);
        int below = (int)position;
        return sorted[below] + ((position - below) * (sorted[below + 1] - sorted[below]));
    }
}
