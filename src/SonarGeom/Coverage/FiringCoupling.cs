using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Coverage;

/// <summary>How loud the burst of one sensor of a layout is in the ear of another: straight across, and by a wall.</summary>
/// <remarks>
/// <para>By a wall: the wall stands where it answers loudest, square to the direction in which both beams together are strongest at some
/// stride phase. Level <c>SL + build-up − 20 log 2R − 2αR + B_t + B_r</c>: the image source of a large rigid wall.</para>
/// <para>Straight: <c>SL + build-up − 20 log d − αd + B_t + B_r</c>. What the body hides is not taken off, and a beam is taken to fall by no
/// more than 30 dB, since piston formulas know nothing of what leaks to the side and behind (an assumption).</para>
/// </remarks>
public sealed class FiringCoupling
{
    private const double LeakDecibels = -30;
    private const double NearestMetres = 0.02;
    private const int StepDegrees = 4;

    private readonly double[,] _wallBeams;
    private readonly double[,] _direct;
    private readonly double[,] _distance;
    private readonly double[,] _sent;
    private readonly double[] _absorption;

    private FiringCoupling(ImmutableArray<Transducer> transducers, double[,] wallBeams, double[,] direct, double[,] distance, double[,] sent, double[] absorption)
    {
        Transducers = transducers;
        _wallBeams = wallBeams;
        _direct = direct;
        _distance = distance;
        _sent = sent;
        _absorption = absorption;
    }

    /// <summary>Gets the transducers, sensor by sensor.</summary>
    public ImmutableArray<Transducer> Transducers { get; }

    /// <summary>Gets the number of sensors.</summary>
    public int Count => Transducers.Length;

    /// <summary>Works out how the sensors of a layout hear each other over the stride.</summary>
    /// <param name="posed">The layout on its wearer, in the air in which it is to be judged.</param>
    public static FiringCoupling Of(PosedLayout posed)
    {
        ArgumentNullException.ThrowIfNull(posed);
        int n = posed.SensorCount;
        var wall = new double[n, n];
        var direct = new double[n, n];
        var distance = new double[n, n];
        var sent = new double[n, n];
        var absorption = new double[n];
        for (int i = 0; i < n; i++)
        {
            Transducer sender = posed.Sensor(i, 0).Transducer;
            absorption[i] = posed.Medium.AbsorptionDecibelsPerMetre(sender.NominalFrequency);
            for (int j = 0; j < n; j++)
            {
                Transducer listener = posed.Sensor(j, 0).Transducer;
                sent[i, j] = sender.SourceLevelDecibels + ResponseDecibels(sender, listener)
                    + Decibels.FromAmplitudeRatio(BurstBuildUp.TwoStage(sender.BurstCycles, sender.TransmitterQ, listener.ReceiverQ));
                (wall[i, j], direct[i, j], distance[i, j]) = Beams(posed, i, j, absorption[i]);
            }
        }

        return new FiringCoupling([.. posed.Layout.Sensors.Select(s => s.Transducer)], wall, direct, distance, sent, absorption);
    }

    /// <summary>Returns the loudest level at which a wall brings the burst of one sensor back to another. [dB re 20 µPa]</summary>
    /// <param name="sender">Index of the sensor that fires.</param>
    /// <param name="listener">Index of the sensor that listens; may be the same.</param>
    /// <param name="rangeMetres">Half the way of the sound, above 0. [m]</param>
    public double WallLevelDecibels(int sender, int listener, double rangeMetres)
    {
        double range = Math.Max(rangeMetres, NearestMetres);
        return _sent[sender, listener] + _wallBeams[sender, listener] - Decibels.FromAmplitudeRatio(2 * range) - (2 * _absorption[sender] * range);
    }

    /// <summary>Returns the loudest level at which the burst of one sensor comes straight to another over the stride. [dB re 20 µPa]</summary>
    /// <param name="sender">Index of the sensor that fires.</param>
    /// <param name="listener">Index of another sensor.</param>
    public double DirectLevelDecibels(int sender, int listener) => _sent[sender, listener] + _direct[sender, listener];

    /// <summary>Returns the distance at which that holds. [m]</summary>
    /// <param name="sender">Index of the sensor that fires.</param>
    /// <param name="listener">Index of another sensor.</param>
    public double DirectDistanceMetres(int sender, int listener) => _distance[sender, listener];

    // A resonant receiver hears a burst of another frequency less: 1 / √(1 + Q²(f/f₀ − f₀/f)²).
    private static double ResponseDecibels(Transducer sender, Transducer listener)
    {
        double ratio = sender.NominalFrequency.Hertz / listener.NominalFrequency.Hertz;
        double detuned = listener.ReceiverQ * (ratio - (1 / ratio));
        return -10 * Math.Log10(1 + (detuned * detuned));
    }

    private static (double Wall, double Direct, double Distance) Beams(PosedLayout posed, int i, int j, double absorption)
    {
        double wall = double.NegativeInfinity, direct = double.NegativeInfinity, distance = 0;
        for (int p = 0; p < posed.PhaseCount; p++)
        {
            SensorAtPose sender = posed.Sensor(i, p), listener = posed.Sensor(j, p);
            foreach (Vec3 towards in Directions(sender.Boresight, listener.Boresight))
            {
                wall = Math.Max(wall, Level(sender.TransmitAmplitude(sender.TransmitterMetres + towards) * listener.ReceiveAmplitude(listener.ReceiverMetres + towards), 2));
            }

            if (i != j)
            {
                double d = Math.Max(NearestMetres, sender.TransmitterMetres.DistanceTo(listener.ReceiverMetres));
                double level = Level(sender.TransmitAmplitude(listener.ReceiverMetres), 1) + Level(listener.ReceiveAmplitude(sender.TransmitterMetres), 1)
                    - Decibels.FromAmplitudeRatio(d) - (absorption * d);
                (direct, distance) = level > direct ? (level, d) : (direct, distance);
            }
        }

        return (wall, direct, distance);
    }

    private static double Level(double amplitude, int beams) =>
        Math.Max(beams * LeakDecibels, amplitude == 0 ? double.NegativeInfinity : Decibels.FromAmplitudeRatio(Math.Abs(amplitude)));

    // The great circle through both boresights, closely: beams that fall off evenly are together strongest between them.
    private static IEnumerable<Vec3> Directions(Vec3 a, Vec3 b)
    {
        yield return a;
        yield return b;
        double angle = Math.Acos(Math.Clamp(a.Dot(b), -1, 1));
        if (angle < 1e-6 || angle > Math.PI - 1e-6)
        {
            yield break;
        }

        int steps = Math.Max(2, (int)Math.Ceiling(angle * 180 / Math.PI / StepDegrees) * 2);
        for (int s = 1; s < steps; s++)
        {
            double share = (double)s / steps;
            yield return (Math.Sin((1 - share) * angle) / Math.Sin(angle) * a) + (Math.Sin(share * angle) / Math.Sin(angle) * b);
        }
    }
}
