using System.Collections.Immutable;
using SonarGeom.Echoes;

namespace SonarGeom.Coverage;

/// <summary>
/// What one layout on one wearer makes of one probe: for each cell of a frontal grid the warning time left when the probe,
/// coming straight at the wearer at walking speed, is first reliably reported.
/// </summary>
public sealed record ApproachMap
{
    /// <summary>Gets the probe.</summary>
    public required Probe Probe { get; init; }

    /// <summary>Gets the grid; every array below has one entry for each cell, row-major from the ground up.</summary>
    public required CoverageGrid Grid { get; init; }

    /// <summary>Gets whether a cell lies inside the wearer's swept silhouette.</summary>
    public required ImmutableArray<bool> InSilhouette { get; init; }

    /// <summary>Gets the height band of each row.</summary>
    public required ImmutableArray<HeightBand> RowBands { get; init; }

    /// <summary>Gets the warning time of each cell under the hold rule of the study; 0 where never reliably reported. [s]</summary>
    public required ImmutableArray<float> WarningSeconds { get; init; }

    /// <summary>Gets the warning time of each cell when reports must hold down to the dead zone; 0 where they do not. [s]</summary>
    public required ImmutableArray<float> UnbrokenWarningSeconds { get; init; }

    /// <summary>
    /// Gets the warning time of each cell when reports need only hold down to the last useful distance, at which the wearer must
    /// begin to act: what is lost nearer in was already warned of. [s]
    /// </summary>
    public required ImmutableArray<float> HeldWarningSeconds { get; init; }

    /// <summary>Gets why a cell is not warned in time; <see cref="LimitingCause.None"/> where it is, and where the cause was not looked
    /// for: in cells outside the silhouette that are never reliably reported.</summary>
    public required ImmutableArray<LimitingCause> Causes { get; init; }

    /// <summary>Gets the index of the sensor that reports a cell first, or −1.</summary>
    public required ImmutableArray<sbyte> FirstSensor { get; init; }

    /// <summary>Gets how many sensors alone would reliably report a cell at the last useful distance.</summary>
    public required ImmutableArray<byte> SensorsHearing { get; init; }

    /// <summary>Gets the names of the sensors, in the order of their indices.</summary>
    public required ImmutableArray<string> SensorNames { get; init; }

    /// <summary>Gets the time needed from first report to contact. [s]</summary>
    public required double TimeNeededSeconds { get; init; }

    /// <summary>Gets the walking speed. [m/s]</summary>
    public required double SpeedMetresPerSecond { get; init; }

    /// <summary>Gets the number of echo evaluations that the map took.</summary>
    public required long Evaluations { get; init; }

    /// <summary>Returns whether a cell is warned in time, announced on the right side.</summary>
    /// <param name="index">Cell index.</param>
    public bool IsWarnedInTime(int index) => Causes[index] == LimitingCause.None && WarningSeconds[index] > 0;

    /// <summary>Returns the share of silhouette cells that are warned in time, for each band from the head down.</summary>
    public ImmutableArray<BandShare> Shares()
    {
        var shares = ImmutableArray.CreateBuilder<BandShare>(5);
        for (HeightBand band = HeightBand.Head; band >= HeightBand.Foot; band--)
        {
            shares.Add(ShareOf(band));
        }

        return shares.ToImmutable();
    }

    /// <summary>Returns the share of silhouette cells of one band that are warned in time.</summary>
    /// <param name="band">The band.</param>
    public BandShare ShareOf(HeightBand band) => ShareOf(band, TimeNeededSeconds);

    /// <summary>Returns the share of silhouette cells of one band that are warned at least a given time ahead.</summary>
    /// <param name="band">The band.</param>
    /// <param name="leastSeconds">Least warning time. [s]</param>
    public BandShare ShareOf(HeightBand band, double leastSeconds)
    {
        int cells = 0, warned = 0, unbroken = 0, held = 0;
        double least = double.PositiveInfinity;
        for (int row = 0; row < Grid.Rows; row++)
        {
            if (RowBands[row] != band)
            {
                continue;
            }

            for (int column = 0; column < Grid.Columns; column++)
            {
                int i = Grid.Index(column, row);
                if (!InSilhouette[i])
                {
                    continue;
                }

                bool sideRight = Causes[i] != LimitingCause.WrongSide;
                cells++;
                warned += sideRight && WarningSeconds[i] >= leastSeconds ? 1 : 0;
                unbroken += sideRight && UnbrokenWarningSeconds[i] >= leastSeconds ? 1 : 0;
                held += sideRight && HeldWarningSeconds[i] >= leastSeconds ? 1 : 0;
                least = Math.Min(least, sideRight ? WarningSeconds[i] : 0);
            }
        }

        return new BandShare(band, cells, warned, unbroken, held, cells == 0 ? 0 : least);
    }
}

/// <summary>How much of one band of the silhouette is warned in time.</summary>
/// <param name="Band">The band.</param>
/// <param name="Cells">Silhouette cells in the band.</param>
/// <param name="WarnedCells">Cells warned in time.</param>
/// <param name="UnbrokenCells">Cells warned in time whose reports hold down to the dead zone.</param>
/// <param name="HeldCells">Cells reported in time whose reports hold at least down to the last useful distance.</param>
/// <param name="LeastWarningSeconds">Warning time of the worst cell. [s]</param>
public sealed record BandShare(HeightBand Band, int Cells, int WarnedCells, int UnbrokenCells, int HeldCells, double LeastWarningSeconds)
{
    /// <summary>Gets the share of cells warned in time; 0 for an empty band. [unitless]</summary>
    public double WarnedFraction => Cells == 0 ? 0 : (double)WarnedCells / Cells;

    /// <summary>Gets the share of cells warned in time without a later break; 0 for an empty band. [unitless]</summary>
    public double UnbrokenFraction => Cells == 0 ? 0 : (double)UnbrokenCells / Cells;

    /// <summary>Gets the share of cells reported in time, whether or not the reports break off nearer in; 0 for an empty band. [unitless]</summary>
    public double HeldFraction => Cells == 0 ? 0 : (double)HeldCells / Cells;
}
