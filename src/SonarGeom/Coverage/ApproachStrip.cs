using System.Collections.Immutable;
using SonarGeom.Echoes;

namespace SonarGeom.Coverage;

/// <summary>
/// The approach map of something that stands upright over the whole height of the wearer and so has no height of its own: one line of
/// cells over the lateral offset.
/// </summary>
/// <param name="Name">Short name of the target.</param>
/// <param name="Description">What it is, in words.</param>
/// <param name="CellMetres">Edge of a cell. [m]</param>
/// <param name="FirstYMetres">Y of the middle of the first cell. [m]</param>
/// <param name="InSilhouette">Whether the wearer's swept silhouette reaches a cell at any height.</param>
/// <param name="WarningSeconds">Warning time of each cell under the hold rule of the study; 0 where never reliably reported. [s]</param>
/// <param name="HeldWarningSeconds">The same when reports need only hold down to the last useful distance. [s]</param>
/// <param name="Causes">Why a cell is not warned in time; none where it is.</param>
/// <param name="FirstSensor">Index of the sensor that reports a cell first, or −1.</param>
/// <param name="SensorNames">The names of the sensors.</param>
/// <param name="TimeNeededSeconds">Time needed from first report to contact. [s]</param>
public sealed record ApproachStrip(
    string Name,
    string Description,
    double CellMetres,
    double FirstYMetres,
    ImmutableArray<bool> InSilhouette,
    ImmutableArray<float> WarningSeconds,
    ImmutableArray<float> HeldWarningSeconds,
    ImmutableArray<LimitingCause> Causes,
    ImmutableArray<sbyte> FirstSensor,
    ImmutableArray<string> SensorNames,
    double TimeNeededSeconds)
{
    /// <summary>Gets the number of cells.</summary>
    public int Count => WarningSeconds.Length;

    /// <summary>Gets the share of the silhouette's width that is warned in time. [unitless]</summary>
    public double WarnedFraction => Share(i => Causes[i] == LimitingCause.None);

    /// <summary>Gets the share of the width reported in time, whether or not the reports break off nearer in. [unitless]</summary>
    public double HeldFraction => Share(i => HeldWarningSeconds[i] >= TimeNeededSeconds && Causes[i] != LimitingCause.WrongSide);

    /// <summary>Returns Y of the middle of a cell. [m]</summary>
    /// <param name="cell">Cell number from 0.</param>
    public double YMetres(int cell) => FirstYMetres + (cell * CellMetres);

    private double Share(Func<int, bool> counts)
    {
        int[] cells = [.. Enumerable.Range(0, Count).Where(i => InSilhouette[i])];
        return cells.Length == 0 ? 0 : (double)cells.Count(counts) / cells.Length;
    }
}
