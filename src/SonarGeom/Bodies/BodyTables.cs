using System.Collections.Immutable;

namespace SonarGeom.Bodies;

/// <summary>The numbers from which bodies are built: pure data, read from tables that users can edit.</summary>
public sealed record BodyTables
{
    /// <summary>Gets the percentiles of surveyed adults.</summary>
    public required ImmutableDictionary<(BodyMeasure Measure, Sex Sex), AdultPercentiles> AdultPercentiles { get; init; }

    /// <summary>Gets the regressions of surveyed adults on stature and mass.</summary>
    public required ImmutableDictionary<(BodyMeasure Measure, Sex Sex), AdultRegression> AdultRegressions { get; init; }

    /// <summary>Gets the stature percentiles of children, by rising age.</summary>
    public required ImmutableArray<ChildStature> ChildStatures { get; init; }

    /// <summary>Gets the proportions of children, by rising age.</summary>
    public required ImmutableDictionary<(BodyMeasure Measure, Sex Sex), ImmutableArray<ChildProportion>> ChildProportions { get; init; }

    /// <summary>Gets the heights of occupied wheelchair seats.</summary>
    public required ImmutableDictionary<(WheelchairKind Kind, Sex Sex), SeatHeight> SeatHeights { get; init; }

    /// <summary>Gets how far head, trunk, pelvis and arms move in a stride.</summary>
    public required ImmutableArray<WalkingExcursion> WalkingExcursions { get; init; }

    /// <summary>Gets the stride times of adults.</summary>
    public required ImmutableArray<StrideTiming> StrideTimings { get; init; }

    /// <summary>Gets the joint angles of walking, by joint and rising speed.</summary>
    public required ImmutableArray<GaitCurve> GaitCurves { get; init; }

    /// <summary>Gets the single numbers that no survey gives.</summary>
    public required ImmutableSortedDictionary<string, Assumption> Assumptions { get; init; }

    /// <summary>Gets the sources by the key under which the tables name them.</summary>
    public required ImmutableSortedDictionary<string, BodySource> Sources { get; init; }

    /// <summary>Returns a single number by its key.</summary>
    /// <param name="key">Key in the table of assumptions.</param>
    /// <exception cref="ArgumentException">The tables have no such number.</exception>
    public double Assumed(string key) =>
        Assumptions.TryGetValue(key, out Assumption? found)
            ? found.Value
            : throw new ArgumentException($"The body tables have no number {key}; the table of assumptions must give it.", nameof(key));
}
