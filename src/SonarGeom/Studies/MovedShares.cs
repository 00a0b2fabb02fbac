using System.Collections.Immutable;
using SonarGeom.Coverage;

namespace SonarGeom.Studies;

/// <summary>
/// Shares of a changed layout as those of the maps plus what the change makes on a coarse grid: one layout has one share
/// throughout a report, and what small cells and large ones differ in cancels.
/// </summary>
/// <param name="mapped">Shares of the unchanged layout on the grid of the maps; default for those of the coarse grid.</param>
/// <param name="coarse">Shares of the unchanged layout on the coarse grid, in the same order.</param>
internal sealed class MovedShares(ImmutableArray<BandShare> mapped, ImmutableArray<BandShare> coarse)
{
    /// <summary>Gets the shares of the unchanged layout.</summary>
    internal ImmutableArray<BandFraction> Before { get; } =
        [.. (mapped.IsDefault ? coarse : mapped).Select(s => new BandFraction(s.Band, s.WarnedFraction))];

    /// <summary>Returns the shares of a changed layout.</summary>
    /// <param name="changed">Its shares on the coarse grid, in the same order.</param>
    internal ImmutableArray<BandFraction> AfterChange(ImmutableArray<BandShare> changed) =>
    [
        .. Before.Select((b, i) => new BandFraction(
            b.Band, mapped.IsDefault ? changed[i].WarnedFraction : Math.Clamp(b.WarnedFraction + changed[i].WarnedFraction - coarse[i].WarnedFraction, 0, 1))),
    ];
}
