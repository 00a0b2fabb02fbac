using System.Collections.Immutable;

namespace SonarGeom.Transducers;

/// <summary>One point of a detection threshold.</summary>
/// <param name="TimeSeconds">The time since the start of the burst. [s]</param>
/// <param name="LevelDecibels">The rms level at the receiver face that is just detected. [dB re 20 µPa]</param>
public readonly record struct ThresholdPoint(double TimeSeconds, double LevelDecibels);

/// <summary>The detection threshold against time: straight lines in decibels between points, level before the first and after the last.</summary>
/// <remarks>Real modules start insensitive and grow sensitive, so that ring-down and floor do not trigger them.</remarks>
public sealed record ThresholdProfile
{
    /// <summary>Makes a profile.</summary>
    /// <param name="points">At least one point; times 0 or above and rising strictly; levels from −40 to 160. [dB re 20 µPa]</param>
    /// <exception cref="ArgumentException">The points break one of these rules; the message names it.</exception>
    public ThresholdProfile(ImmutableArray<ThresholdPoint> points)
    {
        if (points.IsDefaultOrEmpty)
        {
            throw new ArgumentException("A threshold needs at least one point.", nameof(points));
        }

        for (int i = 0; i < points.Length; i++)
        {
            if (!(points[i].TimeSeconds >= 0 && double.IsFinite(points[i].TimeSeconds)
                && points[i].LevelDecibels is >= -40 and <= 160))
            {
                throw new ArgumentException(
                    $"Threshold point {i + 1} is {points[i].LevelDecibels} dB at {points[i].TimeSeconds} s; the time must be 0 or "
                    + "above and the level from -40 to 160 dB re 20 µPa.",
                    nameof(points));
            }

            if (i > 0 && !(points[i].TimeSeconds > points[i - 1].TimeSeconds))
            {
                throw new ArgumentException(
                    $"Threshold times must rise; point {i + 1} is at {points[i].TimeSeconds} s after {points[i - 1].TimeSeconds} s.",
                    nameof(points));
            }
        }

        Points = points;
    }

    /// <summary>Gets the points in rising time.</summary>
    public ImmutableArray<ThresholdPoint> Points { get; }

    /// <summary>Makes a threshold that does not change with time.</summary>
    /// <param name="levelDecibels">The level, from −40 to 160. [dB re 20 µPa]</param>
    /// <exception cref="ArgumentException">The level is outside its range.</exception>
    public static ThresholdProfile Constant(double levelDecibels) => new([new ThresholdPoint(0, levelDecibels)]);

    /// <summary>Returns the threshold at a time. [dB re 20 µPa]</summary>
    /// <param name="timeSeconds">The time since the start of the burst. [s]</param>
    public double LevelDecibels(double timeSeconds)
    {
        ReadOnlySpan<ThresholdPoint> points = Points.AsSpan();
        if (timeSeconds <= points[0].TimeSeconds)
        {
            return points[0].LevelDecibels;
        }

        for (int i = 1; i < points.Length; i++)
        {
            if (timeSeconds < points[i].TimeSeconds)
            {
                double share = (timeSeconds - points[i - 1].TimeSeconds) / (points[i].TimeSeconds - points[i - 1].TimeSeconds);
                return points[i - 1].LevelDecibels + (share * (points[i].LevelDecibels - points[i - 1].LevelDecibels));
            }
        }

        return points[^1].LevelDecibels;
    }

    /// <summary>Returns the profile raised by a level difference; below 0 it becomes more sensitive.</summary>
    /// <param name="decibels">The difference. [dB]</param>
    /// <exception cref="ArgumentException">A level leaves its range.</exception>
    public ThresholdProfile RaisedBy(double decibels) =>
        new([.. Points.Select(point => point with { LevelDecibels = point.LevelDecibels + decibels })]);

    /// <summary>Returns whether two profiles have the same points.</summary>
    public bool Equals(ThresholdProfile? other) => other is not null && Points.AsSpan().SequenceEqual(other.Points.AsSpan());

    /// <inheritdoc/>
    public override int GetHashCode()
    {
        var hash = default(HashCode);
        foreach (ThresholdPoint point in Points)
        {
            hash.Add(point);
        }

        return hash.ToHashCode();
    }
}
