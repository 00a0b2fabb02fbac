using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Trials;

/// <summary>How loud each part of an obstacle can be at most for a sensor: what stays below the threshold need not be computed.</summary>
/// <remarks>
/// <para>At a range R no echo of a part is louder than <c>SL + build-up + TS(R) − 40 log R − 2αR + E(θ)</c>: TS of the part square on
/// and centred, and E the loudest that both beams together are at θ or farther off the boresight, θ the least angle between the
/// boresight and any point of a ball round the part's obstacle. Not louder than the largest of that at R and beyond when R is the
/// distance to the bounding box.</para>
/// <para>Six decibels are kept in reserve for the ripple between the ranges of the table, for attitudes a little better than square on,
/// and for beams that are wider at the lowest frequency of the burst; a test holds the bound against the echoes themselves.</para>
/// </remarks>
internal sealed class EchoBounds
{
    private const double ReserveDecibels = 6;
    private const double NearestMetres = 0.08;
    private const double Growth = 1.05;
    private const int Ranges = 122;
    private const int Degrees = 181;

    // Corners with the floor depend on how high the sensor is above it.
    private static readonly double[] HeightsMetres = [0.2, 0.5, 0.9, 1.3, 1.7];

    private readonly Dictionary<TargetPart, double[]> _strength = new(ReferenceEqualityComparer.Instance);
    private readonly double[] _beams;

    private EchoBounds(PreparedTransducer prepared, IEnumerable<TargetPart> parts)
    {
        var sensors = HeightsMetres.Select(h => new SensorAtPose(prepared, new RigidTransform(Rotation.Identity, new Vec3(0, 0, h)))).ToArray();
        foreach (TargetPart part in parts)
        {
            ReadOnlySpan<SensorAtPose> at = part is CornerPart or PoleFootPart ? sensors : sensors.AsSpan(0, 1);
            var strength = new double[Ranges];
            for (int i = 0; i < Ranges; i++)
            {
                double best = double.NegativeInfinity;
                foreach (SensorAtPose sensor in at)
                {
                    best = Math.Max(best, BestAttitude.TargetStrengthDecibels(sensor, part, RangeMetres(i)));
                }

                // An edge is loudest where the mirror image of its face just goes out, and then half as loud as that: the whole image is
                // taken, TS = 20 log(R/2), and so for every part that has no one attitude that is the loudest.
                strength[i] = HasBestAttitude(part) ? best : Math.Max(best, 20 * Math.Log10(RangeMetres(i) / 2));
            }

            _strength[part] = strength;
        }

        _beams = BeamsOf(prepared.Transducer, prepared.WavenumberRadiansPerMetre);
    }

    /// <summary>Works out the bounds of one transducer for all parts of a course.</summary>
    internal static EchoBounds Of(Transducer transducer, EchoMedium medium, IEnumerable<TargetPart> parts) =>
        new(new PreparedTransducer(transducer, medium), parts);

    /// <summary>Returns, for a part, the largest level that may come from each range of the table or beyond. [dB re 20 µPa]</summary>
    /// <param name="prepared">The transducer in the air of the day.</param>
    /// <param name="part">The part.</param>
    internal double[] Loudest(PreparedTransducer prepared, TargetPart part)
    {
        double[] strength = _strength[part];
        var loudest = new double[Ranges];
        double constant = prepared.Transducer.SourceLevelDecibels + prepared.Spectrum.BuildUpDecibels - part.ReflectionLossDecibels + ReserveDecibels;
        double beyond = double.NegativeInfinity;
        for (int i = Ranges - 1; i >= 0; i--)
        {
            double range = RangeMetres(i);
            beyond = Math.Max(beyond, constant + strength[i] - (40 * Math.Log10(range)) - (2 * prepared.AbsorptionDecibelsPerMetre * range));
            loudest[i] = beyond;
        }

        return loudest;
    }

    /// <summary>Returns, for a part, the largest margin over the threshold from each range of the table or beyond. [dB]</summary>
    internal double[] LargestMargin(PreparedTransducer prepared, TargetPart part)
    {
        double[] strength = _strength[part];
        var margin = new double[Ranges];
        double constant = prepared.Transducer.SourceLevelDecibels + prepared.Spectrum.BuildUpDecibels - part.ReflectionLossDecibels + ReserveDecibels;
        double beyond = double.NegativeInfinity;
        for (int i = Ranges - 1; i >= 0; i--)
        {
            double range = RangeMetres(i);
            double level = constant + strength[i] - (40 * Math.Log10(range)) - (2 * prepared.AbsorptionDecibelsPerMetre * range);

            // The threshold may fall within a step of the table: its lower end counts.
            double threshold = Math.Min(prepared.DetectionThresholdDecibels(range), prepared.DetectionThresholdDecibels(range * Growth));
            beyond = Math.Max(beyond, level - threshold);
            margin[i] = beyond;
        }

        return margin;
    }

    /// <summary>Returns what of a table holds at a distance or beyond.</summary>
    internal static double From(double[] table, double distanceMetres)
    {
        double at = Math.Log(Math.Max(distanceMetres, NearestMetres) / NearestMetres) / Math.Log(Growth);
        return table[Math.Min((int)at, Ranges - 1)];
    }

    /// <summary>Returns how loud both beams together are at most at an angle off the boresight or farther. [dB]</summary>
    internal double BeamsDecibels(double angleRadians) => _beams[Math.Clamp((int)(angleRadians * (180 / Math.PI)), 0, Degrees - 1)];

    private static bool HasBestAttitude(TargetPart part) =>
        part is SpherePart or DomePart or CylinderPart or ConePart or RopePart or PolygonPart or DiscPart or CornerPart or PoleFootPart;

    private static double RangeMetres(int index) => NearestMetres * Math.Pow(Growth, index);

    private static double[] BeamsOf(Transducer transducer, double wavenumber)
    {
        var beams = new double[Degrees];
        double beyond = double.NegativeInfinity;
        for (int degrees = Degrees - 1; degrees >= 0; degrees--)
        {
            double largest = 0;
            for (int half = 0; half < 2; half++)
            {
                (double sine, double cosine) = Math.SinCos((degrees + (0.5 * half)) * Math.PI / 180);
                for (int roll = 0; roll < 360; roll += transducer.Transmit.IsAxisymmetric && transducer.Receive.IsAxisymmetric ? 360 : 10)
                {
                    (double s, double c) = Math.SinCos(roll * Math.PI / 180);
                    var direction = new Vec3(cosine, sine * c, sine * s);
                    foreach (double k in (ReadOnlySpan<double>)[0.93 * wavenumber, wavenumber, 1.07 * wavenumber])
                    {
                        largest = Math.Max(largest, Math.Abs(transducer.Transmit.Amplitude(direction, k) * transducer.Receive.Amplitude(direction, k)));
                    }
                }
            }

            beyond = Math.Max(beyond, largest > 0 ? Decibels.FromAmplitudeRatio(largest) : double.NegativeInfinity);
            beams[degrees] = beyond;
        }

        return beams;
    }
}
