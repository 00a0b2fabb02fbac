using System.Collections.Immutable;

namespace SonarGeom.Rendering.Grids;

/// <summary>Numbers on a grid of cells: exactly what a map draws.</summary>
public sealed record ValueGrid
{
    /// <summary>Creates a grid.</summary>
    /// <param name="across">Cells along the horizontal axis.</param>
    /// <param name="up">Cells along the vertical axis, lowest value first.</param>
    /// <param name="values">Row after row, the row of the lowest vertical value first; NaN means no value, an infinite
    /// number is drawn as the end of the scale.</param>
    /// <exception cref="ArgumentException">There are not as many values as cells.</exception>
    public ValueGrid(GridAxis across, GridAxis up, ImmutableArray<double> values)
    {
        ArgumentNullException.ThrowIfNull(across);
        ArgumentNullException.ThrowIfNull(up);
        if (values.IsDefault || values.Length != (long)across.Count * up.Count)
        {
            throw new ArgumentException(
                $"There are {(values.IsDefault ? 0 : values.Length)} values; a grid of {across.Count} × {up.Count} cells needs "
                + $"{(long)across.Count * up.Count}.",
                nameof(values));
        }

        Across = across;
        Up = up;
        Values = values;
    }

    /// <summary>Gets the cells along the horizontal axis.</summary>
    public GridAxis Across { get; }

    /// <summary>Gets the cells along the vertical axis.</summary>
    public GridAxis Up { get; }

    /// <summary>Gets the values, row after row, lowest row first.</summary>
    public ImmutableArray<double> Values { get; }

    /// <summary>Returns the value of a cell; NaN where there is none.</summary>
    /// <param name="column">Index along the horizontal axis.</param>
    /// <param name="row">Index along the vertical axis.</param>
    public double At(int column, int row) => Values[(row * Across.Count) + column];

    /// <summary>Returns the same grid turned left for right: the value at x is found at −x.</summary>
    public ValueGrid Mirrored()
    {
        int n = Across.Count;
        var mirrored = new double[Values.Length];
        for (int i = 0; i < mirrored.Length; i++)
        {
            mirrored[i] = Values[(i / n * n) + (n - 1 - (i % n))];
        }

        return new(
            new GridAxis(-Across.Centre(n - 1), Across.Step, n), Up, ImmutableArray.Create(mirrored));
    }
}
