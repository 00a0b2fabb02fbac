using System.Collections.Immutable;
using System.Runtime.InteropServices;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;

namespace SonarGeom.Coverage;

/// <summary>Computes approach maps: the warning time left in each cell of the frontal grid.</summary>
/// <remarks>
/// For each cell the probe is set at distances ahead of the foremost body point that it would touch. At each distance it is
/// reported in a stride phase when any sensor's margin reaches 0 dB there. The search runs outward from the last useful
/// distance and inward to the dead zone, and leaves a distance as soon as too many phases have failed.
/// </remarks>
public sealed class ApproachMapper
{
    // Echoes announced on the other side of the body are wrong only when the hazard is clearly off the middle line.
    private const double ClearlyOneSidedMetres = 0.12;

    private const double PoleMetres = 2.5;

    private readonly PosedLayout _layout;
    private readonly WalkSettings _walk;
    private readonly MapSettings _settings;
    private readonly double _timeNeeded;

    /// <summary>Prepares maps for a posed layout.</summary>
    /// <param name="layout">The layout on its wearer at every stride phase.</param>
    /// <param name="walk">Walking, reaction and braking.</param>
    /// <param name="settings">Grid and search distances.</param>
    public ApproachMapper(PosedLayout layout, WalkSettings walk, MapSettings settings)
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(walk);
        ArgumentNullException.ThrowIfNull(settings);
        _layout = layout;
        _walk = walk;
        _settings = settings;
        _timeNeeded = StoppingModel.TimeNeededSeconds(walk, layout.Layout.Firing);
        Grid = layout.GridFor(settings);
    }

    /// <summary>Gets the grid of the maps.</summary>
    public CoverageGrid Grid { get; }

    /// <summary>Computes the map of one probe.</summary>
    /// <param name="probe">The probe.</param>
    /// <param name="cancellation">Stops the work.</param>
    public ApproachMap Map(Probe probe, CancellationToken cancellation = default) => Map(probe, null, cancellation);

    /// <summary>Computes the map of one probe for the rows of one band only; other cells stay outside the silhouette.</summary>
    /// <param name="probe">The probe.</param>
    /// <param name="onlyBand">The band, or null for all.</param>
    /// <param name="cancellation">Stops the work.</param>
    public ApproachMap Map(Probe probe, HeightBand? onlyBand, CancellationToken cancellation = default) =>
        Map(probe, onlyBand, isForSharesOnly: false, cancellation);

    /// <summary>Returns the shares of the bands, head first, without the cells and causes that only a map needs.</summary>
    /// <param name="probe">The probe.</param>
    /// <param name="cancellation">Stops the work.</param>
    public ImmutableArray<BandShare> Shares(Probe probe, CancellationToken cancellation = default) =>
        Map(probe, null, isForSharesOnly: true, cancellation).Shares();

    /// <summary>Returns the share of one band, without the cells and causes that only a map needs.</summary>
    /// <param name="probe">The probe.</param>
    /// <param name="band">The band.</param>
    /// <param name="cancellation">Stops the work.</param>
    public BandShare ShareOf(Probe probe, HeightBand band, CancellationToken cancellation = default) =>
        Map(probe, band, isForSharesOnly: true, cancellation).ShareOf(band);

    /// <summary>Computes the strip of a pole that stands from the ground to above the head: warning time over the lateral offset.</summary>
    /// <param name="diameterMetres">Its diameter. [m]</param>
    /// <param name="cancellation">Stops the work.</param>
    public ApproachStrip PoleStrip(double diameterMetres, CancellationToken cancellation = default)
    {
        ProbeTarget target = ProbeTarget.Pole($"pole-{diameterMetres * 1000:0}mm", diameterMetres, PoleMetres, _layout.Ground);
        var search = new CellSearch(_layout, target, _walk, _settings, _timeNeeded);
        int count = Grid.Columns;
        var inside = new bool[count];
        var warning = new float[count];
        var held = new float[count];
        var causes = new LimitingCause[count];
        var sensors = new sbyte[count];
        Parallel.For(0, count, new ParallelOptions { CancellationToken = cancellation }, column =>
        {
            double y = Grid.YMetres(column);
            inside[column] = Enumerable.Range(0, Grid.Rows).Any(r => _layout.Silhouette.Inside(y, Grid.ZMetres(r)));
            CellOutcome cell = search.Run(y, 0, search.Begin(), isExplained: inside[column]);
            warning[column] = (float)(cell.DistanceMetres / _walk.SpeedMetresPerSecond);
            held[column] = (float)(cell.HeldDistanceMetres / _walk.SpeedMetresPerSecond);
            sensors[column] = (sbyte)cell.FirstSensor;
            causes[column] = CauseOf(cell, y, warning[column]);
        });
        return new ApproachStrip(
            target.Probe.Name, target.Probe.Description, Grid.CellMetres, Grid.FirstYMetres, ImmutableArray.Create(inside),
            ImmutableArray.Create(warning), ImmutableArray.Create(held), ImmutableArray.Create(causes), ImmutableArray.Create(sensors),
            [.. _layout.Layout.Sensors.Select(s => s.Name)], _timeNeeded);
    }

    /// <summary>Begins the map of one probe; its rows can then be filled in any order.</summary>
    /// <param name="probe">The probe.</param>
    /// <param name="inside">Which cells lie inside the silhouette, if that is known; else default.</param>
    internal MapDraft Begin(Probe probe, ImmutableArray<bool> inside = default) =>
        new(probe, new CellSearch(_layout, ProbeTarget.Of(probe), _walk, _settings, _timeNeeded), Grid, inside);

    /// <summary>Fills one row of a map.</summary>
    /// <param name="draft">The map.</param>
    /// <param name="row">The row.</param>
    /// <param name="pass">What the sensors have answered before.</param>
    /// <param name="isForSharesOnly">Whether cells outside the silhouette, and causes, are left out.</param>
    /// <param name="isKept">Whether the memory holds all cells; else it holds one, and forgets.</param>
    internal void FillRow(MapDraft draft, int row, CellPass pass, bool isForSharesOnly, bool isKept = false)
    {
        CoverageGrid grid = Grid;
        double z = grid.ZMetres(row);
        for (int column = 0; column < grid.Columns; column++)
        {
            int i = grid.Index(column, row);
            double y = grid.YMetres(column);
            if (!draft.IsInsideKnown)
            {
                draft.Inside[i] = _layout.Silhouette.Inside(y, z);
            }

            if (isForSharesOnly && !draft.Inside[i])
            {
                continue;
            }

            if (isKept)
            {
                (pass.Cell, pass.KeptRow) = (i, row);
            }
            else
            {
                pass.Memory.Clear(0);
            }

            CellOutcome cell = draft.Search.Run(y, z, pass, isExplained: draft.Inside[i] && !isForSharesOnly);
            draft.Warning[i] = (float)(cell.DistanceMetres / _walk.SpeedMetresPerSecond);
            draft.Unbroken[i] = (float)(cell.UnbrokenDistanceMetres / _walk.SpeedMetresPerSecond);
            draft.Held[i] = (float)(cell.HeldDistanceMetres / _walk.SpeedMetresPerSecond);
            draft.Sensors[i] = (sbyte)cell.FirstSensor;
            draft.Hearing[i] = (byte)cell.SensorsHearing;
            draft.Causes[i] = CauseOf(cell, y, draft.Warning[i]);
        }

        draft.Evaluations[row] = pass.Evaluations;
    }

    /// <summary>Returns a map whose rows have been filled; nothing may be filled afterwards.</summary>
    /// <param name="draft">The map.</param>
    internal ApproachMap Finish(MapDraft draft) => new()
    {
        Probe = draft.Probe,
        Grid = Grid,
        InSilhouette = ImmutableCollectionsMarshal.AsImmutableArray(draft.Inside),
        RowBands = RowBands(),
        WarningSeconds = ImmutableCollectionsMarshal.AsImmutableArray(draft.Warning),
        UnbrokenWarningSeconds = ImmutableCollectionsMarshal.AsImmutableArray(draft.Unbroken),
        HeldWarningSeconds = ImmutableCollectionsMarshal.AsImmutableArray(draft.Held),
        Causes = ImmutableCollectionsMarshal.AsImmutableArray(draft.Causes),
        FirstSensor = ImmutableCollectionsMarshal.AsImmutableArray(draft.Sensors),
        SensorsHearing = ImmutableCollectionsMarshal.AsImmutableArray(draft.Hearing),
        SensorNames = [.. _layout.Layout.Sensors.Select(s => s.Name)],
        TimeNeededSeconds = _timeNeeded,
        SpeedMetresPerSecond = _walk.SpeedMetresPerSecond,
        Evaluations = draft.Evaluations.Sum(),
    };

    private ApproachMap Map(Probe probe, HeightBand? onlyBand, bool isForSharesOnly, CancellationToken cancellation)
    {
        MapDraft draft = Begin(probe);
        ImmutableArray<HeightBand> rowBands = RowBands();

        // Rows are independent and each cell is written once, so the result does not depend on the number of threads.
        RowQueue.ForEach(Grid.Rows, row =>
        {
            if (onlyBand is not { } band || rowBands[row] == band)
            {
                FillRow(draft, row, draft.Search.Begin(), isForSharesOnly);
            }
        }, cancellation);
        return Finish(draft);
    }

    private ImmutableArray<HeightBand> RowBands() => [.. Enumerable.Range(0, Grid.Rows).Select(r => _layout.BandAt(Grid.ZMetres(r)))];

    private LimitingCause CauseOf(CellOutcome cell, double y, double warningSeconds)
    {
        if (cell.FirstSensor < 0)
        {
            return cell.Cause;
        }

        // The wrong side is told first: no other figure of the map counts such a cell, however short the warning asked for.
        AnnouncedSide announced = _layout.Layout.Sensors[cell.FirstSensor].Announces;
        double left = _layout.LeftwardMetres(cell.FirstReportXMetres, y);
        bool wrong = (announced == AnnouncedSide.Left && left < -ClearlyOneSidedMetres)
            || (announced == AnnouncedSide.Right && left > ClearlyOneSidedMetres);
        return wrong ? LimitingCause.WrongSide
            : warningSeconds >= _timeNeeded ? LimitingCause.None
            : cell.Cause != LimitingCause.None ? cell.Cause
            : LimitingCause.TooLate;
    }
}
