using System.Collections.Immutable;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Echoes;
using SonarGeom.Geometry;

namespace SonarGeom.Coverage;

/// <summary>What the search found in one cell.</summary>
/// <param name="DistanceMetres">First reliable distance under the hold rule; 0 if none. [m]</param>
/// <param name="UnbrokenDistanceMetres">First reliable distance that holds down to the dead zone; 0 if none. [m]</param>
/// <param name="HeldDistanceMetres">First reliable distance that holds down to the last useful one, or the unbroken one; 0 if none. [m]</param>
/// <param name="FirstReportXMetres">X of the probe's middle at that report, from the wearer's origin. [m]</param>
/// <param name="FirstSensor">The sensor that hears the first report best, or −1.</param>
/// <param name="SensorsHearing">How many sensors alone are reliable at the last useful distance.</param>
/// <param name="Cause">Why nothing is reliably reported, or why reports that began in time break off before the hold distance.</param>
internal readonly record struct CellOutcome(
    double DistanceMetres, double UnbrokenDistanceMetres, double HeldDistanceMetres, double FirstReportXMetres, int FirstSensor,
    int SensorsHearing, LimitingCause Cause);

/// <summary>What the search keeps from cell to cell of a row; it decides what is asked first, never what is found.</summary>
/// <param name="phases">Settles whether a distance is reliable.</param>
/// <param name="memory">What the sensors have answered.</param>
internal sealed class CellPass(ReliableRangeSearch phases, ReportMemory memory)
{
    internal ReliableRangeSearch Phases => phases;

    internal ReportMemory Memory => memory;

    /// <summary>Scratch memory of the echoes.</summary>
    internal GrossSum Gross { get; } = new();

    /// <summary>The number of the cell in the memory.</summary>
    internal int Cell { get; set; }

    /// <summary>The row of the cell when answers are to outlive turns of the sensors; null when they are not kept.</summary>
    internal int? KeptRow { get; set; }

    /// <summary>The sensor that reported last, asked first.</summary>
    internal int Favourite { get; set; }

    /// <summary>A bit for each sensor of the cell whose margins decided which is best.</summary>
    internal ulong Compared { get; set; }

    /// <summary>The number of echoes computed.</summary>
    internal long Evaluations { get; set; }
}

/// <summary>Searches the first reliable distance of one probe in any cell.</summary>
internal sealed partial class CellSearch
{
    private readonly PosedLayout _layout;
    private readonly ProbeTarget _target;
    private readonly WalkSettings _walk;
    private readonly ImmutableArray<double> _distances;
    private readonly int _last;
    private readonly int _need;
    private readonly int _allowedMisses;
    private readonly double[] _reach;

    internal CellSearch(PosedLayout layout, ProbeTarget target, WalkSettings walk, MapSettings settings, double timeNeeded)
    {
        _layout = layout;
        _target = target;
        _walk = walk;
        (_distances, _need) = settings.Distances(walk.SpeedMetresPerSecond * timeNeeded, 1);
        _last = _distances.Length - 1;
        _allowedMisses = AllowedMisses(layout.PhaseCount, walk.ReliableShare);
        _reach = [.. Enumerable.Range(0, layout.SensorCount).Select(s => layout.ReachMetres(s))];
    }

    /// <summary>Returns how many phases may fail while a distance still counts as reliable.</summary>
    internal static int AllowedMisses(int phases, double reliableShare) =>
        Math.Clamp(phases - (int)Math.Ceiling((phases * reliableShare) - 1e-9), 0, phases - 1);

    /// <summary>Searches one cell.</summary>
    /// <param name="y">Y of its middle. [m]</param>
    /// <param name="z">Z of its middle. [m]</param>
    /// <param name="pass">What the cells before it have taught.</param>
    /// <param name="isExplained">Whether the cause is looked for when nothing is reliably reported.</param>
    internal CellOutcome Run(double y, double z, CellPass pass, bool isExplained)
    {
        if (pass.KeptRow is null)
        {
            return Search(y, z, pass, isExplained, out _, out _);
        }

        ref KeptCell kept = ref pass.Memory.Kept(pass.Cell);
        if (IsStanding(kept, pass, out ulong moved))
        {
            return Renewed(y, z, ref kept, moved, pass);
        }

        BeginStanding(pass);
        CellOutcome outcome = Search(y, z, pass, isExplained, out int chosen, out int explained);
        kept = new KeptCell { IsFound = true, Outcome = outcome, Era = pass.Memory.Era, Chosen = chosen, Explained = explained, Compared = pass.Compared };
        return outcome;
    }

    private CellOutcome Search(double y, double z, CellPass pass, bool isExplained, out int chosen, out int explained)
    {
        double front = FrontMetres(y, z, pass);
        int hold = HoldIndex(front, y, z, pass);
        int outer = _need;
        while (outer <= _last && IsReliable(front, y, z, outer, pass))
        {
            outer++;
        }

        // Inward from the last useful distance: how near the reports hold, and where the innermost unbroken stretch ends.
        int unbrokenTop = -1, inner = hold;
        if (outer > _need)
        {
            inner = _need;
            while (inner > hold && IsHeld(front, y, z, inner - 1, pass))
            {
                inner--;
            }

            if (inner <= hold)
            {
                unbrokenTop = outer - 1;
            }
        }

        if (unbrokenTop < 0)
        {
            // Inside the dead zone nothing is reported: such a distance holds, and is no first report.
            for (int i = hold; i < (outer > _need ? inner : _need); i++)
            {
                if (IsReliable(front, y, z, i, pass))
                {
                    unbrokenTop = i;
                }
                else if (!IsHeld(front, y, z, i, pass))
                {
                    break;
                }
            }
        }

        bool heldToNeed = outer > _need;
        chosen = heldToNeed && _walk.Hold == HoldRule.TimeNeeded ? outer - 1 : unbrokenTop;
        double distance = Refined(front, y, z, chosen, pass);
        double unbroken = unbrokenTop == chosen ? distance : unbrokenTop < 0 ? 0 : _distances[unbrokenTop];
        int first = chosen < 0 ? -1 : BestSensor(front, y, z, chosen, pass);
        double held = !heldToNeed || chosen == outer - 1 ? distance : _distances[outer - 1];

        // Reports that began in time and broke off are explained where they break off, silence at the last useful distance.
        bool breaksOff = heldToNeed && chosen < _need;
        explained = isExplained && (chosen < 0 || breaksOff) ? breaksOff ? Math.Max(inner - 1, hold) : _need : -1;
        LimitingCause cause = explained < 0 ? LimitingCause.None : CauseAt(front, y, z, explained, pass);
        return new CellOutcome(distance, unbroken, held, front + distance, first, CountHearing(front, y, z, pass), cause);
    }

    /// <summary>Returns the memory of a row of cells: the phases are asked in the order that settled the cell before soonest.</summary>
    internal CellPass Begin() => Begin(NewMemory(1, 1, NewTurns([])));

    /// <summary>Returns the same with what the sensors have answered before.</summary>
    internal CellPass Begin(ReportMemory memory) => new(new ReliableRangeSearch(_layout.PhaseCount, _walk.ReliableShare), memory);

    /// <summary>Returns the poses of the sensors, to be moved with them.</summary>
    /// <param name="followed">Indices of the sensors whose turns answers may outlive.</param>
    internal SensorTurns[] NewTurns(IReadOnlyCollection<int> followed) =>
        [.. Enumerable.Range(0, _layout.SensorCount).Select(s => new SensorTurns(_layout.Ear(s), followed.Contains(s)))];

    /// <summary>Returns an empty memory for a number of cells in rows.</summary>
    internal ReportMemory NewMemory(int rows, int cells, SensorTurns[] turns) => new(rows, cells, _distances.Length, _layout.PhaseCount, turns);

    private Vec3 At(double front, double y, double z, int index) => new(front + _distances[index], y, z);

    private double Refined(double front, double y, double z, int index, CellPass pass)
    {
        if (index < 0)
        {
            return 0;
        }

        if (index >= _last)
        {
            return _distances[_last];
        }

        // The halves make a tree; its nodes, row by row, are the refined places.
        pass.Memory.RefineFrom(pass.Cell, index, pass.KeptRow);
        double low = _distances[index], high = _distances[index + 1];
        for (int node = 0; node < ReportMemory.RefinedPlaces;)
        {
            double middle = 0.5 * (low + high);
            if (IsReliable(new Vec3(front + middle, y, z), _distances.Length + node, pass))
            {
                low = middle;
                node = (2 * node) + 2;
            }
            else
            {
                high = middle;
                node = (2 * node) + 1;
            }
        }

        return low;
    }

    private int HoldIndex(double front, double y, double z, CellPass pass)
    {
        ref int hold = ref pass.Memory.HoldIndex(pass.Cell);
        if (hold < 0)
        {
            hold = HoldIndex(front, y, z);
        }

        return hold;
    }

    // The nearest distance that lies outside the dead zone of the sensor nearest to the probe there.
    private int HoldIndex(double front, double y, double z)
    {
        for (int i = 0; i < _need; i++)
        {
            Vec3 at = At(front, y, z, i);
            double beyond = double.NegativeInfinity, nearest = double.PositiveInfinity;
            for (int s = 0; s < _layout.SensorCount; s++)
            {
                double range = _layout.NearestRangeMetres(s, _target, at);
                if (range < nearest)
                {
                    (nearest, beyond) = (range, range - _layout.DeadZoneMetres(s));
                }
            }

            if (beyond > 0)
            {
                return i;
            }
        }

        return _need;
    }
}
