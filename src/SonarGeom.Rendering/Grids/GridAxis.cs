namespace SonarGeom.Rendering.Grids;

/// <summary>Evenly spaced cells along one axis.</summary>
public sealed record GridAxis
{
    /// <summary>Creates an axis.</summary>
    /// <param name="firstCentre">Centre of the first cell. [unit of the axis]</param>
    /// <param name="step">Cell size, above 0. [unit of the axis]</param>
    /// <param name="count">How many cells, at least 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A value is outside its range.</exception>
    public GridAxis(double firstCentre, double step, int count)
    {
        if (!double.IsFinite(firstCentre))
        {
            throw new ArgumentOutOfRangeException(nameof(firstCentre), $"First centre is {firstCentre}; it must be finite.");
        }

        if (!(step > 0) || !double.IsFinite(step))
        {
            throw new ArgumentOutOfRangeException(nameof(step), $"Cell size is {step}; it must be finite and above 0.");
        }

        ArgumentOutOfRangeException.ThrowIfLessThan(count, 1);
        FirstCentre = firstCentre;
        Step = step;
        Count = count;
    }

    /// <summary>Gets the centre of the first cell. [unit of the axis]</summary>
    public double FirstCentre { get; }

    /// <summary>Gets the cell size. [unit of the axis]</summary>
    public double Step { get; }

    /// <summary>Gets how many cells there are.</summary>
    public int Count { get; }

    /// <summary>Gets the outer edge of the first cell. [unit of the axis]</summary>
    public double From => FirstCentre - (0.5 * Step);

    /// <summary>Gets the outer edge of the last cell. [unit of the axis]</summary>
    public double To => FirstCentre + ((Count - 0.5) * Step);

    /// <summary>Returns the centre of a cell. [unit of the axis]</summary>
    /// <param name="index">Which cell, from 0; a broken number lies between centres.</param>
    public double Centre(double index) => FirstCentre + (index * Step);
}
