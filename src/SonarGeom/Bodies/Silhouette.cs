using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Bodies;

/// <summary>What a wearer sweeps, seen from the front, over several moments: a grid of cells, each with the foremost point of the
/// body in it. The cane is left out, a wheelchair is not.</summary>
/// <remarks>Cells lie symmetric about the midline, so that mirrored moments give a mirrored silhouette.</remarks>
public sealed class Silhouette
{
    private const double FinestCellMetres = 0.001;
    private const double CoarsestCellMetres = 0.2;
    private const double LineWidthCells = 1e-6;

    // Foremost X of each cell, row by row from the ground; negative infinity where there is no body.
    private readonly double[] _foremost;

    private Silhouette(double cell, int columns, int rows, double[] foremost)
    {
        CellMetres = cell;
        Columns = columns;
        Rows = rows;
        _foremost = foremost;
        double left = double.NegativeInfinity;
        double right = double.PositiveInfinity;
        double top = 0;
        double ahead = double.NegativeInfinity;
        int inside = 0;
        for (int j = 0; j < rows; j++)
        {
            for (int i = 0; i < columns; i++)
            {
                double x = foremost[(j * columns) + i];
                if (x > double.NegativeInfinity)
                {
                    inside++;
                    left = Math.Max(left, ColumnMetres(i) + (cell / 2));
                    right = Math.Min(right, ColumnMetres(i) - (cell / 2));
                    top = RowMetres(j) + (cell / 2);
                    ahead = Math.Max(ahead, x);
                }
            }
        }

        LeftMetres = left;
        RightMetres = right;
        TopMetres = top;
        ForemostMetres = ahead;
        AreaSquareMetres = inside * cell * cell;
        Outlines = SilhouetteOutline.Of(this);
    }

    /// <summary>Gets the size of a cell. [m]</summary>
    public double CellMetres { get; }

    /// <summary>Gets the number of cells across; even, half of them on each side.</summary>
    public int Columns { get; }

    /// <summary>Gets the number of cells upwards from the ground.</summary>
    public int Rows { get; }

    /// <summary>Gets the leftmost edge of the body. [m]</summary>
    public double LeftMetres { get; }

    /// <summary>Gets the rightmost edge of the body: a negative number. [m]</summary>
    public double RightMetres { get; }

    /// <summary>Gets the height of the body, bounce included. [m]</summary>
    public double TopMetres { get; }

    /// <summary>Gets how far ahead of the origin the foremost point of the body is. [m]</summary>
    public double ForemostMetres { get; }

    /// <summary>Gets the frontal area swept. [m²]</summary>
    public double AreaSquareMetres { get; }

    /// <summary>Gets the closed lines round the silhouette and round its holes, the body on the left of each as it is walked.</summary>
    public ImmutableArray<ImmutableArray<FrontalPoint>> Outlines { get; }

    /// <summary>Draws the silhouette of a body over several moments.</summary>
    /// <param name="poses">At least one moment.</param>
    /// <param name="cellMetres">Size of a cell, from 0.001 to 0.2. [m]</param>
    /// <exception cref="ArgumentException">There is no moment.</exception>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="cellMetres"/> is outside its range.</exception>
    public static Silhouette Of(IReadOnlyList<PosedBody> poses, double cellMetres = 0.01)
    {
        ArgumentNullException.ThrowIfNull(poses);
        if (poses.Count == 0)
        {
            throw new ArgumentException("A silhouette needs at least one moment of a body.", nameof(poses));
        }

        Finite.Within(cellMetres, FinestCellMetres, CoarsestCellMetres, "Silhouette cell", "m");
        TriangleMesh[] meshes =
        [
            .. poses.SelectMany(p => p.Body.Segments.Where(s => s.Id != SegmentId.Cane).Select(s => p.Mesh(s.Id))),
        ];
        double widest = 0;
        double tallest = 0;
        foreach (TriangleMesh mesh in meshes)
        {
            foreach (Vec3 v in mesh.Vertices)
            {
                widest = Math.Max(widest, Math.Abs(v.Y));
                tallest = Math.Max(tallest, v.Z);
            }
        }

        int half = (int)Math.Ceiling(widest / cellMetres) + 1;
        int rows = (int)Math.Ceiling(Math.Max(tallest, cellMetres) / cellMetres) + 1;
        double[] foremost = new double[2 * half * rows];
        Array.Fill(foremost, double.NegativeInfinity);
        SilhouetteRaster raster = new(cellMetres, half, rows, foremost);
        foreach (TriangleMesh mesh in meshes)
        {
            raster.Add(mesh);
        }

        return new Silhouette(cellMetres, 2 * half, rows, foremost);
    }

    /// <summary>Returns how far left the middle of a column of cells is. [m]</summary>
    /// <param name="column">From 0, at the right, up.</param>
    public double ColumnMetres(int column) => (column - (Columns / 2) + 0.5) * CellMetres;

    /// <summary>Returns how high the middle of a row of cells is. [m]</summary>
    /// <param name="row">From 0, at the ground, up.</param>
    public double RowMetres(int row) => (row + 0.5) * CellMetres;

    /// <summary>Returns the foremost point of the body in a cell, or null where there is no body. [m]</summary>
    /// <param name="column">From 0, at the right, up.</param>
    /// <param name="row">From 0, at the ground, up.</param>
    public double? ForemostOfCellMetres(int column, int row) =>
        column < 0 || column >= Columns || row < 0 || row >= Rows || double.IsNegativeInfinity(_foremost[(row * Columns) + column])
            ? null
            : _foremost[(row * Columns) + column];

    /// <summary>Returns whether the body passes a point of the frontal plane, to the nearest cell.</summary>
    /// <param name="yMetres">To the left of the midline. [m]</param>
    /// <param name="zMetres">Above the ground. [m]</param>
    public bool Inside(double yMetres, double zMetres) => ForemostXMetres(yMetres, zMetres) is not null;

    /// <summary>Returns the foremost point of the body at a point of the frontal plane, to the nearest cell (between two columns,
    /// the farther ahead), or null where there is no body. [m]</summary>
    /// <param name="yMetres">To the left of the midline. [m]</param>
    /// <param name="zMetres">Above the ground. [m]</param>
    public double? ForemostXMetres(double yMetres, double zMetres)
    {
        double across = yMetres / CellMetres, row = Math.Floor(zMetres / CellMetres);

        // On the line between two columns both count, whichever side rounding falls to: left and right stay mirrors.
        double? right = At(Math.Floor(across - LineWidthCells)), left = At(Math.Floor(across + LineWidthCells));
        return right is { } r && left is { } l ? Math.Max(r, l) : right ?? left;

        double? At(double from)
        {
            double column = from + (Columns / 2);
            return column >= 0 && column < Columns && row >= 0 && row < Rows ? ForemostOfCellMetres((int)column, (int)row) : null;
        }
    }
}
