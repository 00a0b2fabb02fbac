using System.Collections.Immutable;

namespace SonarGeom.Coverage.Kernels;

/// <summary>One corner of a threshold that changes with range.</summary>
/// <param name="RangeMetres">Half the path out and back. [m]</param>
/// <param name="LevelDecibels">The level that an echo must reach there. [dB re 20 µPa]</param>
public readonly record struct FieldThresholdPoint(double RangeMetres, double LevelDecibels);

/// <summary>The echo level needed for a detection: straight lines between points in range, constant before the first and after
/// the last point; and the ranges between which the sensor listens.</summary>
public sealed record FieldThreshold
{
    /// <summary>Makes a threshold.</summary>
    /// <param name="points">At least one point, in rising range. The range is half the path from transmitter to target to receiver.</param>
    /// <param name="nearestRangeMetres">Nothing is detected nearer than this, at least 0. [m]</param>
    /// <param name="farthestRangeMetres">Nothing is detected farther than this; may be infinite. [m]</param>
    /// <exception cref="ArgumentException">There is no point, ranges do not rise or a number is not finite.</exception>
    public FieldThreshold(
        ImmutableArray<FieldThresholdPoint> points, double nearestRangeMetres = 0, double farthestRangeMetres = double.PositiveInfinity)
    {
        if (points.IsDefaultOrEmpty)
        {
            throw new ArgumentException("A threshold needs at least one point.", nameof(points));
        }

        for (int i = 0; i < points.Length; i++)
        {
            bool rises = i == 0 ? points[i].RangeMetres >= 0 : points[i].RangeMetres > points[i - 1].RangeMetres;
            if (!rises || !double.IsFinite(points[i].RangeMetres) || !double.IsFinite(points[i].LevelDecibels))
            {
                throw new ArgumentException(
                    $"Threshold point {i + 1} is {points[i].LevelDecibels} dB at {points[i].RangeMetres} m; ranges must rise from 0 and all numbers be finite.",
                    nameof(points));
            }
        }

        if (!(nearestRangeMetres >= 0 && farthestRangeMetres > nearestRangeMetres))
        {
            throw new ArgumentException(
                $"The sensor listens from {nearestRangeMetres} to {farthestRangeMetres} m; the first must be at least 0 and below the second.",
                nameof(nearestRangeMetres));
        }

        Points = points;
        NearestRangeMetres = nearestRangeMetres;
        FarthestRangeMetres = farthestRangeMetres;
    }

    /// <summary>Gets the points in rising range.</summary>
    public ImmutableArray<FieldThresholdPoint> Points { get; }

    /// <summary>Gets the range nearer than which nothing is detected. [m]</summary>
    public double NearestRangeMetres { get; }

    /// <summary>Gets the range farther than which nothing is detected. [m]</summary>
    public double FarthestRangeMetres { get; }

    /// <summary>Gets whether the threshold is the same at every range and nothing is cut off.</summary>
    public bool IsConstant =>
        Points.All(point => point.LevelDecibels == Points[0].LevelDecibels) && NearestRangeMetres == 0 && double.IsPositiveInfinity(FarthestRangeMetres);

    /// <summary>Makes a threshold that is the same at every range.</summary>
    /// <param name="levelDecibels">The level that an echo must reach. [dB re 20 µPa]</param>
    public static FieldThreshold Constant(double levelDecibels) => new([new FieldThresholdPoint(0, levelDecibels)]);

    /// <summary>Returns the level needed at a range, +∞ outside the ranges listened to. [dB re 20 µPa]</summary>
    /// <param name="rangeMetres">Half the path from transmitter to target to receiver. [m]</param>
    public double LevelDecibels(double rangeMetres)
    {
        if (!(rangeMetres >= NearestRangeMetres && rangeMetres <= FarthestRangeMetres))
        {
            return double.PositiveInfinity;
        }

        double level = Points[0].LevelDecibels;
        for (int i = 1; i < Points.Length; i++)
        {
            double beyond = rangeMetres - Points[i - 1].RangeMetres;
            double width = Points[i].RangeMetres - Points[i - 1].RangeMetres;
            level += (Points[i].LevelDecibels - Points[i - 1].LevelDecibels) * Math.Clamp(beyond / width, 0, 1);
        }

        return level;
    }
}
