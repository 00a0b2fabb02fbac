namespace SonarGeom.Coverage;

/// <summary>A frontal grid of square cells, seen by the wearer: columns from right to left (Y up), rows from the ground up.</summary>
/// <param name="CellMetres">Edge of a cell. [m]</param>
/// <param name="FirstYMetres">Y of the centres of the first column. [m]</param>
/// <param name="FirstZMetres">Z of the centres of the first row. [m]</param>
/// <param name="Columns">Number of columns.</param>
/// <param name="Rows">Number of rows.</param>
public sealed record CoverageGrid(double CellMetres, double FirstYMetres, double FirstZMetres, int Columns, int Rows)
{
    /// <summary>Gets the number of cells.</summary>
    public int Count => Columns * Rows;

    /// <summary>Gets the area of one cell. [m²]</summary>
    public double CellAreaSquareMetres => CellMetres * CellMetres;

    /// <summary>Returns the grid, symmetric about Y = 0, that covers a half width and a height.</summary>
    /// <param name="cellMetres">Edge of a cell, 0.002 to 0.5. [m]</param>
    /// <param name="halfWidthMetres">Half width to cover. [m]</param>
    /// <param name="heightMetres">Height to cover, from the ground. [m]</param>
    /// <exception cref="ArgumentOutOfRangeException">The cell is outside its range.</exception>
    public static CoverageGrid Covering(double cellMetres, double halfWidthMetres, double heightMetres)
    {
        Quantities.Finite.Within(cellMetres, 0.002, 0.5, nameof(cellMetres), "m");
        int half = (int)Math.Ceiling(halfWidthMetres / cellMetres);
        int rows = (int)Math.Ceiling(heightMetres / cellMetres);
        return new CoverageGrid(cellMetres, -(half - 0.5) * cellMetres, 0.5 * cellMetres, 2 * half, rows);
    }

    /// <summary>Returns Y of the centres of a column. [m]</summary>
    /// <param name="column">Column number from 0.</param>
    public double YMetres(int column) => FirstYMetres + (column * CellMetres);

    /// <summary>Returns Z of the centres of a row. [m]</summary>
    /// <param name="row">Row number from 0.</param>
    public double ZMetres(int row) => FirstZMetres + (row * CellMetres);

    /// <summary>Returns the index of a cell in row-major order.</summary>
    /// <param name="column">Column number from 0.</param>
    /// <param name="row">Row number from 0.</param>
    public int Index(int column, int row) => (row * Columns) + column;

    /// <summary>Returns the index of the cell that holds a position, or −1.</summary>
    /// <param name="yMetres">Y. [m]</param>
    /// <param name="zMetres">Z. [m]</param>
    public int IndexAt(double yMetres, double zMetres)
    {
        int column = (int)Math.Floor(((yMetres - FirstYMetres) / CellMetres) + 0.5);
        int row = (int)Math.Floor(((zMetres - FirstZMetres) / CellMetres) + 0.5);
        return column < 0 || row < 0 || column >= Columns || row >= Rows ? -1 : Index(column, row);
    }
}
