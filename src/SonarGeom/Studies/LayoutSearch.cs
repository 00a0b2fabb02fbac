using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Studies;

/// <summary>A layout that a search came to.</summary>
/// <param name="Sensors">Its sensors, in the order of the candidates.</param>
/// <param name="ScreenedFraction">Share of the silhouette at whose last useful distance the screening probe is reliably detected. [unitless]</param>
public sealed record SearchedLayout(ImmutableArray<SensorPlacement> Sensors, double ScreenedFraction);

/// <summary>
/// Looks for the places and attitudes of a few sensors that together warn of the most: all candidate mountings are screened with
/// a point-like probe, and layouts are grown and improved by exchange.
/// </summary>
/// <remarks>
/// <para>A cell of the silhouette counts as warned when a probe at the last useful distance before it, walking speed times time
/// needed, is detected by any sensor in the reliable share of stride phases. That is the criterion of the approach map under
/// <see cref="HoldRule.TimeNeeded"/>, for a probe as <see cref="PointEcho"/> describes it.</para>
/// <para>Screening flatters where the wearer's own body is in the way: judge the layouts found with <see cref="ApproachMapper"/>
/// before believing in them.</para>
/// </remarks>
public sealed class LayoutSearch
{
    private readonly ImmutableArray<int> _sites;
    private readonly LayoutSweep _sweep;

    /// <summary>Screens candidate mountings.</summary>
    /// <param name="posed">The wearer, air and firing plan; the sensors worn now do not matter.</param>
    /// <param name="candidates">Candidate placements; those that cannot be worn are left out. No two sensors of a layout share a site.</param>
    /// <param name="probe">A sphere.</param>
    /// <param name="walk">Walking, reaction and braking.</param>
    /// <param name="cellMetres">Edge of a cell of the silhouette, from 0.01 to 0.5. [m]</param>
    /// <exception cref="ArgumentException">The probe is not a sphere, no candidate can be worn, or a beam is not axisymmetric.</exception>
    public LayoutSearch(
        PosedLayout posed, ImmutableArray<SensorPlacement> candidates, Probe probe, WalkSettings walk, double cellMetres = 0.05)
    {
        ArgumentNullException.ThrowIfNull(posed);
        ArgumentNullException.ThrowIfNull(probe);
        ArgumentNullException.ThrowIfNull(walk);
        Finite.Within(cellMetres, 0.01, 0.5, nameof(cellMetres), "m");
        if (probe.Shape != ProbeShape.Sphere)
        {
            throw new ArgumentException($"Layouts are screened with a sphere; {probe.Name} is a {probe.Shape.ToString().ToLowerInvariant()}.", nameof(probe));
        }

        double strength = PointEcho.SphereTargetStrengthDecibels(probe.DiameterMetres, probe.ReflectionLossDecibels);
        var echoes = new Dictionary<Transducer, FieldEcho>();
        foreach (Transducer part in candidates.Select(candidate => candidate.Transducer).Distinct())
        {
            echoes.Add(part, PointEcho.Of(new PreparedTransducer(part, posed.Medium), strength));
        }

        var tracks = new FieldTrack?[candidates.Length];
        Parallel.For(0, candidates.Length, i => tracks[i] = TrackOrNull(echoes[candidates[i].Transducer], posed, candidates[i]));
        ImmutableArray<SensorPlacement> worn = [.. candidates.Where((_, i) => tracks[i] is not null)];
        if (worn.IsEmpty)
        {
            throw new ArgumentException($"None of the {candidates.Length} candidates can be worn by {posed.Body.Spec.Name}.", nameof(candidates));
        }

        Candidates = worn;
        string[] sites = [.. Candidates.Select(candidate => candidate.Mount.Site).Distinct()];
        _sites = [.. Candidates.Select(candidate => Array.IndexOf(sites, candidate.Mount.Site))];
        double ahead = walk.SpeedMetresPerSecond * StoppingModel.TimeNeededSeconds(walk, posed.Layout.Firing);
        (FieldLattice lattice, ImmutableArray<bool> counted) = LastUsefulPlaces(posed, ahead, cellMetres);
        int required = ReliableRangeSearch.RequiredOf(posed.PhaseCount, walk.ReliableShare);
        _sweep = new LayoutSweep(lattice, [.. tracks.OfType<FieldTrack>()], required, counted: counted);
    }

    /// <summary>Gets the candidates that can be worn.</summary>
    public ImmutableArray<SensorPlacement> Candidates { get; }

    /// <summary>Gets the number of cells of the silhouette.</summary>
    public int Cells => _sweep.CountedCells;

    /// <summary>Returns candidates at all sites of a list with all tilts and azimuths, named after them.</summary>
    /// <param name="part">The transducer.</param>
    /// <param name="sites">Names of the sites.</param>
    /// <param name="tilts">The tilts, positive up.</param>
    /// <param name="azimuths">The azimuths, positive left.</param>
    public static ImmutableArray<SensorPlacement> AllOf(
        Transducer part, IEnumerable<string> sites, IReadOnlyList<Angle> tilts, IReadOnlyList<Angle> azimuths)
    {
        ArgumentNullException.ThrowIfNull(part);
        ArgumentNullException.ThrowIfNull(sites);
        return
        [
            .. from site in sites
               from tilt in tilts
               from azimuth in azimuths
               select new SensorPlacement(
                   $"{site}, tilt {tilt.Degrees:0}°, azimuth {azimuth.Degrees:0}°",
                   part,
                   new Mount(site, Vec3.Zero, azimuth, tilt, Angle.Zero, new MountTolerance(Angle.Zero, Angle.Zero, Angle.Zero, 0)),
                   azimuth.Degrees > 5 ? AnnouncedSide.Left : azimuth.Degrees < -5 ? AnnouncedSide.Right : AnnouncedSide.Ahead),
        ];
    }

    /// <summary>Returns the share of the silhouette that a layout of candidates covers. [unitless]</summary>
    /// <param name="layout">Numbers of candidates.</param>
    public double ScreenedFraction(ImmutableArray<int> layout) => (double)_sweep.CoveredCells(layout.AsSpan()) / Math.Max(1, Cells);

    /// <summary>Returns the best layouts found of a number of sensors, the best first.</summary>
    /// <param name="sensors">Number of sensors, at least 1 and at most the number of sites among the candidates.</param>
    /// <param name="count">How many layouts to return at most; different starts are followed to different ends.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is outside its range.</exception>
    public ImmutableArray<SearchedLayout> Best(int sensors, int count = 4)
    {
        int sites = _sites.Distinct().Count();
        Finite.Within(sensors, 1, sites, nameof(sensors), "sensors");
        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);

        // From the best single sensor of each site, grow by the best next one, then exchange until nothing gains.
        ImmutableArray<int> alone = _sweep.CoveredCellsWithOneMore([]);
        int[] starts = [.. Enumerable.Range(0, alone.Length).GroupBy(i => _sites[i]).Select(site => site.MaxBy(i => (alone[i], -i)))];
        var found = new SortedSet<(int Lost, string Key)>();
        var layouts = new Dictionary<string, ImmutableArray<int>>();
        foreach (int start in starts)
        {
            ImmutableArray<int> layout = Exchanged(Grown([start], sensors));
            string key = string.Join(' ', layout.Select(i => i.ToString("D6")));
            if (layouts.TryAdd(key, layout))
            {
                found.Add((-_sweep.CoveredCells(layout.AsSpan()), key));
            }
        }

        return
        [
            .. found.Take(count).Select(entry => new SearchedLayout(
                [.. layouts[entry.Key].Select(i => Candidates[i])], ScreenedFraction(layouts[entry.Key]))),
        ];
    }

    private static FieldTrack? TrackOrNull(FieldEcho echo, PosedLayout posed, SensorPlacement candidate)
    {
        try
        {
            return PointEcho.Track(echo, posed, candidate);
        }
        catch (ArgumentException)
        {
            return null; // The body has no such site, or the sensor would sit inside it: nothing that anybody can wear.
        }
    }

    /// <summary>The places ahead of each cell of the silhouette where a report is just in time, as chosen cells of a thin lattice.</summary>
    private static (FieldLattice Lattice, ImmutableArray<bool> Counted) LastUsefulPlaces(PosedLayout posed, double aheadMetres, double cellMetres)
    {
        var grid = CoverageGrid.Covering(cellMetres, posed.HalfWidthMetres, posed.TopMetres);
        var foremost = new double?[grid.Count];
        double nearest = double.PositiveInfinity;
        double farthest = double.NegativeInfinity;
        for (int row = 0; row < grid.Rows; row++)
        {
            for (int column = 0; column < grid.Columns; column++)
            {
                double? x = posed.Silhouette.ForemostXMetres(grid.YMetres(column), grid.ZMetres(row));
                foremost[grid.Index(column, row)] = x;
                nearest = Math.Min(nearest, x ?? nearest);
                farthest = Math.Max(farthest, x ?? farthest);
            }
        }

        int layers = 1 + (int)Math.Ceiling((farthest - nearest) / cellMetres);
        var first = new Vec3(nearest + aheadMetres, grid.FirstYMetres, grid.FirstZMetres);
        var lattice = new FieldLattice(first, new Vec3(cellMetres, cellMetres, cellMetres), layers, grid.Columns, grid.Rows);
        var counted = new bool[lattice.Cells];
        for (int i = 0; i < foremost.Length; i++)
        {
            if (foremost[i] is { } x)
            {
                counted[(i * layers) + (int)Math.Round((x - nearest) / cellMetres)] = true;
            }
        }

        return (lattice, ImmutableArray.Create(counted));
    }

    private ImmutableArray<int> Grown(ImmutableArray<int> layout, int sensors)
    {
        while (layout.Length < sensors)
        {
            layout = layout.Add(BestAddition(layout).Candidate);
        }

        return layout.Sort();
    }

    private ImmutableArray<int> Exchanged(ImmutableArray<int> layout)
    {
        int covered = _sweep.CoveredCells(layout.AsSpan());
        bool gained = true;
        while (gained)
        {
            gained = false;
            for (int i = 0; i < layout.Length; i++)
            {
                ImmutableArray<int> others = layout.RemoveAt(i);
                (int candidate, int with) = BestAddition(others);
                if (with > covered)
                {
                    (layout, covered, gained) = (others.Add(candidate).Sort(), with, true);
                    break;
                }
            }
        }

        return layout;
    }

    /// <summary>The candidate at a free site that covers most together with a layout; the first of equals.</summary>
    private (int Candidate, int Covered) BestAddition(ImmutableArray<int> layout)
    {
        ImmutableArray<int> covered = _sweep.CoveredCellsWithOneMore(layout);
        int best = -1;
        for (int i = 0; i < covered.Length; i++)
        {
            bool isFree = !layout.Any(other => _sites[other] == _sites[i]);
            best = isFree && (best < 0 || covered[i] > covered[best]) ? i : best;
        }

        return (best, covered[best]);
    }
}
