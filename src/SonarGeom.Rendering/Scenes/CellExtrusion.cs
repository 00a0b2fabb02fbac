using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Rendering.Grids;

namespace SonarGeom.Rendering.Scenes;

/// <summary>Turns cells of a frontal grid into closed solids.</summary>
public static class CellExtrusion
{
    /// <summary>Returns the solid that the cells fill between a near and a far distance ahead.</summary>
    /// <param name="lateral">Cells along Y, positive left. [m]</param>
    /// <param name="height">Cells along Z. [m]</param>
    /// <param name="fromMetres">Near end of each cell along X, row after row, lowest row first; NaN where there is no
    /// cell. [m]</param>
    /// <param name="toMetres">Far end of each cell along X; a cell that does not reach beyond its near end is left
    /// out. [m]</param>
    /// <exception cref="ArgumentException">The number of values is not the number of cells.</exception>
    public static TriangleMesh Solid(
        GridAxis lateral, GridAxis height, ReadOnlySpan<double> fromMetres, ReadOnlySpan<double> toMetres)
    {
        ArgumentNullException.ThrowIfNull(lateral);
        ArgumentNullException.ThrowIfNull(height);
        int cells = lateral.Count * height.Count;
        if (fromMetres.Length != cells || toMetres.Length != cells)
        {
            throw new ArgumentException(
                $"There are {fromMetres.Length} near and {toMetres.Length} far ends for {cells} cells.", nameof(fromMetres));
        }

        var builder = new MeshBuilder();
        for (int row = 0; row < height.Count; row++)
        {
            double z0 = height.From + (row * height.Step);
            double z1 = z0 + height.Step;
            for (int column = 0; column < lateral.Count; column++)
            {
                Stretch here = Of(lateral, height, fromMetres, toMetres, column, row);
                if (!here.IsFilled)
                {
                    continue;
                }

                double y0 = lateral.From + (column * lateral.Step);
                double y1 = y0 + lateral.Step;
                builder.AddQuad(new(here.To, y0, z0), new(here.To, y1, z0), new(here.To, y1, z1), new(here.To, y0, z1));
                builder.AddQuad(new(here.From, y1, z0), new(here.From, y0, z0), new(here.From, y0, z1), new(here.From, y1, z1));

                // A wall stands wherever the neighbour does not fill the same distance.
                foreach (Stretch s in here.Without(Of(lateral, height, fromMetres, toMetres, column - 1, row)))
                {
                    builder.AddQuad(new(s.From, y0, z0), new(s.To, y0, z0), new(s.To, y0, z1), new(s.From, y0, z1));
                }

                foreach (Stretch s in here.Without(Of(lateral, height, fromMetres, toMetres, column + 1, row)))
                {
                    builder.AddQuad(new(s.To, y1, z0), new(s.From, y1, z0), new(s.From, y1, z1), new(s.To, y1, z1));
                }

                foreach (Stretch s in here.Without(Of(lateral, height, fromMetres, toMetres, column, row - 1)))
                {
                    builder.AddQuad(new(s.From, y1, z0), new(s.To, y1, z0), new(s.To, y0, z0), new(s.From, y0, z0));
                }

                foreach (Stretch s in here.Without(Of(lateral, height, fromMetres, toMetres, column, row + 1)))
                {
                    builder.AddQuad(new(s.From, y0, z1), new(s.To, y0, z1), new(s.To, y1, z1), new(s.From, y1, z1));
                }
            }
        }

        return builder.ToMesh();
    }

    private static Stretch Of(
        GridAxis lateral, GridAxis height, ReadOnlySpan<double> from, ReadOnlySpan<double> to, int column, int row)
    {
        if (column < 0 || row < 0 || column >= lateral.Count || row >= height.Count)
        {
            return default;
        }

        int cell = (row * lateral.Count) + column;
        return to[cell] > from[cell] ? new(from[cell], to[cell]) : default;
    }

    /// <summary>A stretch of distance ahead; empty by default.</summary>
    private readonly record struct Stretch(double From, double To)
    {
        public bool IsFilled => To > From;

        /// <summary>Returns what remains of this stretch when another is taken away: none, one or two stretches.</summary>
        public ImmutableArray<Stretch> Without(Stretch other)
        {
            if (!other.IsFilled || other.To <= From || other.From >= To)
            {
                return [this];
            }

            var before = new Stretch(From, other.From);
            var after = new Stretch(other.To, To);
            return (before.IsFilled, after.IsFilled) switch
            {
                (true, true) => [before, after],
                (true, false) => [before],
                (false, true) => [after],
                _ => [],
            };
        }
    }
}
