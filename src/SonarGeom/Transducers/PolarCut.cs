using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>One point of a measured polar response.</summary>
/// <param name="OffAxis">The angle off the boresight.</param>
/// <param name="LevelDecibels">The one-way level relative to the boresight. [dB]</param>
public readonly record struct PolarPoint(Angle OffAxis, double LevelDecibels);

/// <summary>A measured one-way polar response in one plane, mirrored about the boresight, with a smooth curve between its points.</summary>
/// <remarks>
/// <para>Between points the level follows a cubic that neither overshoots nor turns between them: Fritsch and Carlson, SIAM J.
/// Numer. Anal. 17, 238–246 (1980) (from memory), with slopes from the harmonic mean of the neighbouring chords.</para>
/// <para>Beyond the last point the level goes on falling at the last slope, or stays when the curve rises there: no level
/// beyond the table is above its last value.</para>
/// </remarks>
public sealed class PolarCut
{
    /// <summary>The lowest level that is accepted. [dB]</summary>
    public const double LowestDecibels = -100;

    private readonly double[] _angles;
    private readonly double[] _levels;
    private readonly double[] _slopes;

    private PolarCut(ImmutableArray<PolarPoint> points, double asymmetryDecibels)
    {
        Points = points;
        AsymmetryDecibels = asymmetryDecibels;
        _angles = [.. points.Select(point => point.OffAxis.Radians)];
        _levels = [.. points.Select(point => point.LevelDecibels)];
        _slopes = Slopes(_angles, _levels);
    }

    /// <summary>Gets the points from 0° outwards, as used.</summary>
    public ImmutableArray<PolarPoint> Points { get; }

    /// <summary>Gets the largest difference between the two sides of a two-sided table, of which the mean is used; 0 for a one-sided table. [dB]</summary>
    public double AsymmetryDecibels { get; }

    /// <summary>Gets the angle of the last point; beyond it the curve is continued.</summary>
    public Angle LastAngle => Points[^1].OffAxis;

    /// <summary>Makes a cut from points in rising angle: from 0° outwards, or with both sides present at equal angles.</summary>
    /// <param name="points">At least three points. The first of a one-sided table is at 0°; angles rise strictly, up to 180°;
    /// levels are relative to the boresight, from −100 to 3, and 0 ± 0.01 at 0°. [dB]</param>
    /// <exception cref="ArgumentException">The points break one of these rules; the message names it.</exception>
    public static PolarCut FromPoints(IEnumerable<PolarPoint> points)
    {
        ArgumentNullException.ThrowIfNull(points);
        ImmutableArray<PolarPoint> given = [.. points];
        if (given.Length < 3)
        {
            throw new ArgumentException($"A polar table needs at least 3 points; it has {given.Length}.", nameof(points));
        }

        for (int i = 0; i < given.Length; i++)
        {
            double degrees = given[i].OffAxis.Degrees;
            double level = given[i].LevelDecibels;
            if (!(Math.Abs(degrees) <= 180 + 1e-9) || !(level is >= LowestDecibels and <= 3))
            {
                throw new ArgumentException(
                    $"Polar point {i + 1} is {level} dB at {degrees:0.###}°; the angle must be from -180° to 180° and the level "
                    + $"from {LowestDecibels} to 3 dB.",
                    nameof(points));
            }

            if (i > 0 && !(given[i].OffAxis > given[i - 1].OffAxis))
            {
                throw new ArgumentException(
                    $"Polar angles must rise; point {i + 1} is at {degrees:0.###}° after {given[i - 1].OffAxis.Degrees:0.###}°.",
                    nameof(points));
            }
        }

        return given[0].OffAxis.Degrees < -1e-9 ? Folded(given) : OneSided(given, 0);
    }

    /// <summary>Returns the level at an angle off the boresight. [dB]</summary>
    /// <param name="offAxisRadians">The angle, 0 or above. [rad]</param>
    public double LevelDecibels(double offAxisRadians)
    {
        int last = _angles.Length - 1;
        if (offAxisRadians >= _angles[last])
        {
            return Math.Max(
                _levels[last] + (Math.Min(_slopes[last], 0) * (offAxisRadians - _angles[last])), 2 * LowestDecibels);
        }

        int low = 0;
        int high = last;
        while (high - low > 1)
        {
            int middle = (low + high) >> 1;
            if (_angles[middle] <= offAxisRadians)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        // Cubic Hermite on [low, low + 1].
        double width = _angles[low + 1] - _angles[low];
        double t = (offAxisRadians - _angles[low]) / width;
        double chord = _levels[low + 1] - _levels[low];
        double first = _slopes[low] * width;
        double second = _slopes[low + 1] * width;
        return _levels[low] + (t * (first + (t * ((3 * chord) - (2 * first) - second + (t * (first + second - (2 * chord)))))));
    }

    private static PolarCut OneSided(ImmutableArray<PolarPoint> points, double asymmetryDecibels)
    {
        if (Math.Abs(points[0].OffAxis.Degrees) > 1e-9 || Math.Abs(points[0].LevelDecibels) > 0.01)
        {
            throw new ArgumentException(
                $"A polar table starts with 0 dB at 0°; it starts with {points[0].LevelDecibels} dB at {points[0].OffAxis.Degrees:0.###}°.",
                nameof(points));
        }

        return new PolarCut(points, asymmetryDecibels);
    }

    private static PolarCut Folded(ImmutableArray<PolarPoint> points)
    {
        ImmutableArray<PolarPoint>.Builder folded = ImmutableArray.CreateBuilder<PolarPoint>();
        double asymmetry = 0;
        foreach (PolarPoint point in points.Where(point => point.OffAxis.Degrees >= -1e-9))
        {
            int match = -1;
            for (int i = 0; i < points.Length && match < 0; i++)
            {
                match = Math.Abs(points[i].OffAxis.Degrees + point.OffAxis.Degrees) < 1e-6 ? i : -1;
            }

            if (match < 0)
            {
                throw new ArgumentException(
                    $"A two-sided polar table needs the same angles on both sides; {-point.OffAxis.Degrees:0.###}° is missing.",
                    nameof(points));
            }

            double other = points[match].LevelDecibels;
            asymmetry = Math.Max(asymmetry, Math.Abs(other - point.LevelDecibels));
            folded.Add(point with { LevelDecibels = 0.5 * (other + point.LevelDecibels) });
        }

        return 2 * folded.Count - 1 == points.Length && folded.Count >= 3
            ? OneSided(folded.ToImmutable(), asymmetry)
            : throw new ArgumentException(
                "A two-sided polar table needs 0° and the same angles on both sides, at least 3 on each.", nameof(points));
    }

    private static double[] Slopes(double[] x, double[] y)
    {
        // Mirror symmetry makes the slope 0 at the boresight.
        double[] slopes = new double[x.Length];
        for (int i = 1; i < x.Length - 1; i++)
        {
            double before = (y[i] - y[i - 1]) / (x[i] - x[i - 1]);
            double after = (y[i + 1] - y[i]) / (x[i + 1] - x[i]);
            if (before * after > 0)
            {
                double w1 = (2 * (x[i + 1] - x[i])) + (x[i] - x[i - 1]);
                double w2 = (x[i + 1] - x[i]) + (2 * (x[i] - x[i - 1]));
                slopes[i] = (w1 + w2) / ((w1 / before) + (w2 / after));
            }
        }

        slopes[^1] = (y[^1] - y[^2]) / (x[^1] - x[^2]);
        return slopes;
    }
}
