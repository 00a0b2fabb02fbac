using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>One source of a trace at one range.</summary>
internal readonly record struct TraceSample(double RangeMetres, string Source, double LevelDecibels);

/// <summary>The tables of a trace.</summary>
internal static class TraceTables
{
    /// <summary>Gets the sources, one a row.</summary>
    internal static ResultTable<TraceContribution> Sources { get; } = new(
        new("source", "source", c => Cell.Of(c.Label)),
        new("source_kind", null, c => Cell.Of(Words.Code(TraceStage.KindOf(c.Label)))),
        new("range_m", "range [m]", c => Cell.Of(IsAudible(c) ? c.RangeMetres : null, 3)),
        new("peak_level_db_re_20upa", "peak [dB]", c => Cell.Of(IsAudible(c) ? c.PeakDecibels : null, 1)),
        new("margin_db", "margin [dB]", c => Cell.Of(IsAudible(c) ? c.LargestMarginDecibels : null, 1)),
        new("crosses_at_m", "crosses at [m]", c => Cell.Of(c.FirstCrossingMetres, 3)),
        new("withheld", null, c => Cell.Of(c.Withheld)));

    /// <summary>Gets the curves: every source, their sum, the threshold and the noise against range.</summary>
    internal static ResultTable<TraceSample> Samples { get; } = new(
        new("range_m", null, s => Cell.Of(s.RangeMetres, 3)),
        new("source", null, s => Cell.Of(s.Source)),
        new("level_db_re_20upa", null, s => Cell.Of(s.LevelDecibels, 2)));

    /// <summary>Returns the sources that add anything, loudest over the threshold first.</summary>
    internal static ImmutableArray<TraceContribution> Audible(LevelTrace trace) =>
        [.. trace.Contributions.Where(IsAudible).OrderByDescending(c => c.LargestMarginDecibels)];

    /// <summary>Returns the rows of the curves; where a source is silent it has no row.</summary>
    internal static IEnumerable<TraceSample> SamplesOf(LevelTrace trace)
    {
        IEnumerable<(string, ImmutableArray<double>)> curves =
        [
            ("threshold", trace.ThresholdDecibels),
            ("noise", [.. trace.RangesMetres.Select(_ => trace.NoiseDecibels)]),
            ("all sources together", trace.TotalDecibels),
            .. trace.Contributions.Select(c => (c.Label, c.LevelsDecibels)),
        ];
        foreach ((string name, ImmutableArray<double> levels) in curves)
        {
            for (int i = 0; i < levels.Length; i++)
            {
                if (levels[i] > PartEcho.SilentDecibels)
                {
                    yield return new TraceSample(trace.RangesMetres[i], name, levels[i]);
                }
            }
        }
    }

    private static bool IsAudible(TraceContribution contribution) => contribution.PeakDecibels > PartEcho.SilentDecibels;
}
