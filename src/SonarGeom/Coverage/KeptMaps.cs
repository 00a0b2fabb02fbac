using System.Collections.Immutable;
using SonarGeom.Layouts;

namespace SonarGeom.Coverage;

/// <summary>
/// The approach maps of some probes for one layout, with what each sensor has answered kept: when one sensor moves, the others are
/// not asked again. The maps are those that <see cref="ApproachMapper"/> computes from nothing.
/// </summary>
/// <remarks>
/// What is kept goes over to the maps made last by <see cref="WithSensor"/>. Asked once more, earlier maps answer as truly, but
/// start from nothing.
/// </remarks>
public sealed class KeptMaps
{
    private readonly WalkSettings _walk;
    private readonly MapSettings _settings;
    private readonly bool _isForSharesOnly;
    private readonly ImmutableArray<int> _followed;
    private Kept? _kept;

    private KeptMaps(PosedLayout layout, WalkSettings walk, MapSettings settings, ImmutableArray<ApproachMap> maps, Kept kept, bool isForSharesOnly)
    {
        Layout = layout;
        _walk = walk;
        _settings = settings;
        Maps = maps;
        _kept = kept;
        _isForSharesOnly = isForSharesOnly;
        _followed = [.. Enumerable.Range(0, layout.SensorCount).Where(s => kept.Turns.Length > 0 && kept.Turns[s].IsFollowed)];
    }

    /// <summary>Gets the layout.</summary>
    public PosedLayout Layout { get; }

    /// <summary>Gets the maps, one for each probe.</summary>
    public ImmutableArray<ApproachMap> Maps { get; }

    /// <summary>Computes the maps of a layout.</summary>
    /// <param name="layout">The layout on its wearer.</param>
    /// <param name="walk">Walking, reaction and braking.</param>
    /// <param name="settings">Grid and search distances.</param>
    /// <param name="probes">The probes, one map for each.</param>
    /// <param name="isForSharesOnly">Whether cells outside the silhouette, and causes, are left out: enough for the shares of the bands.</param>
    /// <param name="followed">Indices of the sensors that will turn by a few degrees at a time, whose maps are to follow at once; default for all.
    /// That takes twice the work now. Other sensors may move too: they are then asked everything anew.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static KeptMaps Of(
        PosedLayout layout, WalkSettings walk, MapSettings settings, IEnumerable<Probe> probes, bool isForSharesOnly = false,
        ImmutableArray<int> followed = default, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(probes);
        var mapper = new ApproachMapper(layout, walk, settings);
        MapDraft[] drafts = [.. probes.Select(p => mapper.Begin(p))];
        Kept kept = Kept.Empty(drafts, mapper.Grid, followed.IsDefault ? [.. Enumerable.Range(0, layout.SensorCount)] : followed);
        return Fill(layout, walk, settings, mapper, drafts, kept, isForSharesOnly, cancellation);
    }

    /// <summary>Computes the maps of the layout with one sensor replaced.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="placement">What takes its place.</param>
    /// <param name="cancellation">Stops the work; what was kept is then lost.</param>
    /// <exception cref="ArgumentException">The mount is impossible.</exception>
    public KeptMaps WithSensor(int sensor, SensorPlacement placement, CancellationToken cancellation = default)
    {
        PosedLayout layout = Layout.WithSensor(sensor, placement);
        var mapper = new ApproachMapper(layout, _walk, _settings);
        MapDraft[] drafts = [.. Maps.Select(m => mapper.Begin(m.Probe, m.InSilhouette))];
        Kept? before = Interlocked.Exchange(ref _kept, null);
        before?.Turns[sensor].Move(layout.Ear(sensor));
        return Fill(layout, _walk, _settings, mapper, drafts, before ?? Kept.Empty(drafts, mapper.Grid, _followed), _isForSharesOnly, cancellation);
    }

    private static KeptMaps Fill(
        PosedLayout layout, WalkSettings walk, MapSettings settings, ApproachMapper mapper, MapDraft[] drafts, Kept kept, bool isForSharesOnly,
        CancellationToken cancellation)
    {
        // All rows of all maps side by side: each cell is written once, so the result does not depend on the number of threads.
        RowQueue.ForEach(drafts.Length * mapper.Grid.Rows, i =>
        {
            (int probe, int row) = (i / mapper.Grid.Rows, i % mapper.Grid.Rows);
            mapper.FillRow(drafts[probe], row, drafts[probe].Search.Begin(kept.Memories[probe]), isForSharesOnly, isKept: true);
        }, cancellation);
        return new KeptMaps(layout, walk, settings, [.. drafts.Select(mapper.Finish)], kept, isForSharesOnly);
    }

    /// <summary>The answers, probe by probe, and the poses that they were given in, sensor by sensor.</summary>
    private sealed record Kept(ReportMemory[] Memories, SensorTurns[] Turns)
    {
        internal static Kept Empty(MapDraft[] drafts, CoverageGrid grid, ImmutableArray<int> followed)
        {
            SensorTurns[] turns = drafts.Length == 0 ? [] : drafts[0].Search.NewTurns(followed);
            return new Kept([.. drafts.Select(d => d.Search.NewMemory(grid.Rows, grid.Count, turns))], turns);
        }
    }
}
