using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Coverage;

/// <summary>Computes plan and side slices of the detection margin.</summary>
public static class Slicer
{
    /// <summary>Returns a level slice, from the wearer's back to a reach ahead and as far to both sides.</summary>
    /// <param name="layout">The layout on its wearer.</param>
    /// <param name="probe">The probe.</param>
    /// <param name="heightMetres">Height of the slice. [m]</param>
    /// <param name="reachMetres">Reach ahead. [m]</param>
    /// <param name="cellMetres">Edge of a cell. [m]</param>
    /// <param name="phase">Index of the stride phase.</param>
    public static MarginSlice Plan(PosedLayout layout, Probe probe, double heightMetres, double reachMetres, double cellMetres, int phase = 0)
    {
        ArgumentNullException.ThrowIfNull(layout);
        int half = (int)Math.Ceiling(0.6 * reachMetres / cellMetres);
        return Slice(layout, probe, SlicePlane.Plan, heightMetres, reachMetres, cellMetres, phase, -(half - 0.5) * cellMetres, 2 * half);
    }

    /// <summary>Returns an upright slice along the path, from the ground to 0.5 m above the head.</summary>
    /// <param name="layout">The layout on its wearer.</param>
    /// <param name="probe">The probe.</param>
    /// <param name="offsetMetres">Lateral offset, positive left. [m]</param>
    /// <param name="reachMetres">Reach ahead. [m]</param>
    /// <param name="cellMetres">Edge of a cell. [m]</param>
    /// <param name="phase">Index of the stride phase.</param>
    public static MarginSlice Side(PosedLayout layout, Probe probe, double offsetMetres, double reachMetres, double cellMetres, int phase = 0)
    {
        ArgumentNullException.ThrowIfNull(layout);
        int rows = (int)Math.Ceiling((layout.TopMetres + 0.5) / cellMetres);
        return Slice(layout, probe, SlicePlane.Side, offsetMetres, reachMetres, cellMetres, phase, 0.5 * cellMetres, rows);
    }

    private static MarginSlice Slice(
        PosedLayout layout, Probe probe, SlicePlane plane, double at, double reach, double cell, int phase, double firstOther, int rows)
    {
        ProbeTarget target = ProbeTarget.Of(probe);
        double firstX = cell * (0.5 - Math.Ceiling(0.3 / cell));
        int columns = (int)Math.Ceiling((reach - firstX) / cell);
        var margins = new float[columns * rows];
        Parallel.For(0, rows, row =>
        {
            double other = firstOther + (row * cell);
            for (int column = 0; column < columns; column++)
            {
                double x = firstX + (column * cell);
                Vec3 position = plane == SlicePlane.Plan ? new Vec3(x, other, at) : new Vec3(x, at, other);
                double best = double.NegativeInfinity;
                for (int s = 0; s < layout.SensorCount; s++)
                {
                    best = Math.Max(best, layout.MarginDecibels(s, phase, target, position));
                }

                margins[(row * columns) + column] = (float)best;
            }
        });
        return new MarginSlice(
            plane, probe.Name, at, (double)phase / layout.PhaseCount, firstX, firstOther, cell, columns, rows, ImmutableArray.Create(margins));
    }
}
