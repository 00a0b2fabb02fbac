using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using SonarGeom.Geometry;

namespace SonarGeom.Coverage.Kernels;

/// <summary>
/// Cells on a regular lattice, cell <c>(k·CountY + j)·CountX + i</c> centred at <c>first + (i·step.X, j·step.Y, k·step.Z)</c>, and
/// their division into tiles of 64 neighbouring cells, neighbouring tiles one after the other, for the level kernels. Immutable. A count of 1 makes a slice.
/// </summary>
/// <remarks>A tile is four boxes of 16 cells: 16 cells fill a vector, four vectors are in flight together, and all tiles share
/// one table of offsets from their centre. The shape of a tile follows from the counts and steps: the fewest tiles, and of
/// about equally few the most compact, for which bounds over a tile are tightest.</remarks>
public sealed class FieldLattice
{
    /// <summary>Number of cells in a tile.</summary>
    internal const int TileCells = 64;

    /// <summary>Number of cells in a box.</summary>
    internal const int BoxCells = 16;

    /// <summary>Number of boxes in a tile.</summary>
    internal const int TileBoxes = 4;

    private readonly (int X, int Y, int Z) _tile;
    private readonly (int X, int Y, int Z)[] _firstCells;
    private readonly ulong[] _inside;
    private readonly int[] _cellX = new int[TileCells];
    private readonly int[] _cellY = new int[TileCells];
    private readonly int[] _cellZ = new int[TileCells];
    private readonly int[] _places = new int[TileCells];

    /// <summary>Makes a lattice.</summary>
    /// <param name="firstCellMetres">Centre of cell 0. [m]</param>
    /// <param name="stepMetres">Distance between neighbouring centres along X, Y and Z, each above 0. [m]</param>
    /// <param name="countX">Number of cells along X, at least 1.</param>
    /// <param name="countY">Number of cells along Y, at least 1.</param>
    /// <param name="countZ">Number of cells along Z, at least 1.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is outside its range.</exception>
    public FieldLattice(Vec3 firstCellMetres, Vec3 stepMetres, int countX, int countY, int countZ)
    {
        if (!firstCellMetres.IsFinite || !stepMetres.IsFinite || !(stepMetres.X > 0 && stepMetres.Y > 0 && stepMetres.Z > 0))
        {
            throw new ArgumentOutOfRangeException(nameof(stepMetres), $"The lattice starts at {firstCellMetres} with steps {stepMetres}; numbers must be finite and steps above 0.");
        }

        ArgumentOutOfRangeException.ThrowIfLessThan(countX, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(countY, 1);
        ArgumentOutOfRangeException.ThrowIfLessThan(countZ, 1);
        if ((long)countX * countY * countZ > int.MaxValue)
        {
            throw new ArgumentOutOfRangeException(nameof(countX), $"The lattice has {countX} × {countY} × {countZ} cells; it may have at most {int.MaxValue}.");
        }

        FirstCellMetres = firstCellMetres;
        StepMetres = stepMetres;
        CountX = countX;
        CountY = countY;
        CountZ = countZ;
        _tile = BestShape(TileCells, shape => TileScore(shape));
        (int X, int Y, int Z) box = BestShape(
            BoxCells, shape => shape.X <= _tile.X && shape.Y <= _tile.Y && shape.Z <= _tile.Z ? Diagonal(shape) : double.PositiveInfinity);
        _firstCells = FirstCells();
        HalfExtentMetres = new Vec3(0.5 * (_tile.X - 1) * stepMetres.X, 0.5 * (_tile.Y - 1) * stepMetres.Y, 0.5 * (_tile.Z - 1) * stepMetres.Z);
        FillOffsets(box);
        _inside = [.. _firstCells.Select(InsideOf)];
    }

    /// <summary>Gets the centre of cell 0. [m]</summary>
    public Vec3 FirstCellMetres { get; }

    /// <summary>Gets the distance between neighbouring centres. [m]</summary>
    public Vec3 StepMetres { get; }

    /// <summary>Gets the number of cells along X.</summary>
    public int CountX { get; }

    /// <summary>Gets the number of cells along Y.</summary>
    public int CountY { get; }

    /// <summary>Gets the number of cells along Z.</summary>
    public int CountZ { get; }

    /// <summary>Gets the number of cells.</summary>
    public int Cells => CountX * CountY * CountZ;

    /// <summary>The number of tiles.</summary>
    internal int Tiles => _firstCells.Length;

    /// <summary>From the centre of a tile to its outermost cell centres. [m]</summary>
    internal Vec3 HalfExtentMetres { get; }

    /// <summary>Offsets of the cells of a box: 16 of X, 16 of Y, 16 of Z. [m]</summary>
    internal float[] LaneOffsets { get; } = new float[3 * BoxCells];

    /// <summary>Offsets of the boxes of a tile: 4 of X, 4 of Y, 4 of Z. [m]</summary>
    internal float[] BoxOffsets { get; } = new float[3 * TileBoxes];

    /// <summary>Four times the squared distance of each cell from the centre of its tile. [m²]</summary>
    internal float[] FourSquaredOffsets { get; } = new float[TileCells];

    /// <summary>Returns the centre of a cell. [m]</summary>
    /// <param name="cell">The number of the cell.</param>
    public Vec3 CellCentreMetres(int cell)
    {
        int i = cell % CountX;
        int j = cell / CountX % CountY;
        int k = cell / (CountX * CountY);
        return FirstCellMetres + new Vec3(i * StepMetres.X, j * StepMetres.Y, k * StepMetres.Z);
    }

    /// <summary>Returns the centre of a tile. [m]</summary>
    internal Vec3 TileCentreMetres(int tile)
    {
        (int x, int y, int z) = _firstCells[tile];
        return FirstCellMetres + new Vec3(x * StepMetres.X, y * StepMetres.Y, z * StepMetres.Z) + HalfExtentMetres;
    }

    /// <summary>Copies one number for each cell of a tile to its place in the lattice; cells beyond the lattice are dropped.</summary>
    internal void Scatter<T>(int tile, ReadOnlySpan<T> values, Span<T> cells)
    {
        (int x, int y, int z) = _firstCells[tile];
        Span<T> target = cells[(((z * CountY) + y) * CountX + x)..];
        ulong inside = _inside[tile];
        if (inside == ulong.MaxValue)
        {
            // The last of these is checked, and with it all.
            _ = target[_places[TileCells - 1]];
            ref T to = ref MemoryMarshal.GetReference(target);
            ref int places = ref MemoryMarshal.GetArrayDataReference(_places);
            ref T from = ref MemoryMarshal.GetReference(values[..TileCells]);
            for (int n = 0; n < TileCells; n++)
            {
                Unsafe.Add(ref to, Unsafe.Add(ref places, n)) = Unsafe.Add(ref from, n);
            }

            return;
        }

        for (int n = 0; n < TileCells; n++)
        {
            if (((inside >> n) & 1) != 0)
            {
                target[_places[n]] = values[n];
            }
        }
    }

    /// <summary>For each tile one bit for each of its cells that lies in the lattice.</summary>
    internal ulong[] CellsInside() => _inside;

    /// <summary>For each tile one bit for each of its cells that is chosen.</summary>
    internal ulong[] CellsWhere(ReadOnlySpan<bool> chosen)
    {
        var bits = new ulong[Tiles];
        for (int tile = 0; tile < bits.Length; tile++)
        {
            (int x, int y, int z) = _firstCells[tile];
            int first = (((z * CountY) + y) * CountX) + x;
            for (int n = 0; n < TileCells; n++)
            {
                bool isChosen = ((_inside[tile] >> n) & 1) != 0 && chosen[first + _places[n]];
                bits[tile] |= isChosen ? 1UL << n : 0;
            }
        }

        return bits;
    }

    private ulong InsideOf((int X, int Y, int Z) first)
    {
        ulong inside = 0;
        for (int n = 0; n < TileCells; n++)
        {
            bool isInside = first.X + _cellX[n] < CountX && first.Y + _cellY[n] < CountY && first.Z + _cellZ[n] < CountZ;
            inside |= isInside ? 1UL << n : 0;
        }

        return inside;
    }

    private static int DivideUp(int a, int b) => (a + b - 1) / b;

    private static (int X, int Y, int Z) BestShape(int cells, Func<(int X, int Y, int Z), double> score)
    {
        (int X, int Y, int Z) best = (cells, 1, 1);
        double bestScore = double.PositiveInfinity;
        for (int x = 1; x <= cells; x *= 2)
        {
            for (int y = 1; x * y <= cells; y *= 2)
            {
                (int X, int Y, int Z) shape = (x, y, cells / (x * y));
                double value = score(shape);
                if (value < bestScore)
                {
                    bestScore = value;
                    best = shape;
                }
            }
        }

        return best;
    }

    private double TileScore((int X, int Y, int Z) shape)
    {
        double tiles = (double)DivideUp(CountX, shape.X) * DivideUp(CountY, shape.Y) * DivideUp(CountZ, shape.Z);

        // A tile that is half a metre across is about twice the work of a small one, for fewer sensors can be left out over it.
        return tiles * (1 + (Diagonal(shape) / 0.5));
    }

    private double Diagonal((int X, int Y, int Z) shape) =>
        new Vec3((shape.X - 1) * StepMetres.X, (shape.Y - 1) * StepMetres.Y, (shape.Z - 1) * StepMetres.Z).Length;

    /// <summary>The first cells of all tiles, in an order that keeps neighbours together in all three directions.</summary>
    private (int X, int Y, int Z)[] FirstCells()
    {
        var tiles = new List<(ulong Key, (int X, int Y, int Z) First)>();
        for (int z = 0; z < CountZ; z += _tile.Z)
        {
            for (int y = 0; y < CountY; y += _tile.Y)
            {
                for (int x = 0; x < CountX; x += _tile.X)
                {
                    ulong key = Spread(x / _tile.X) | (Spread(y / _tile.Y) << 1) | (Spread(z / _tile.Z) << 2);
                    tiles.Add((key, (x, y, z)));
                }
            }
        }

        return [.. tiles.OrderBy(tile => tile.Key).Select(tile => tile.First)];

        // Bit n of the number goes to bit 3n.
        static ulong Spread(int number)
        {
            ulong spread = 0;
            for (int bit = 0; bit < 21; bit++)
            {
                spread |= ((ulong)(number >> bit) & 1) << (3 * bit);
            }

            return spread;
        }
    }

    private void FillOffsets((int X, int Y, int Z) box)
    {
        (int X, int Y, int Z) boxes = (_tile.X / box.X, _tile.Y / box.Y, _tile.Z / box.Z);
        for (int b = 0; b < TileBoxes; b++)
        {
            int bx = b % boxes.X;
            int by = b / boxes.X % boxes.Y;
            int bz = b / (boxes.X * boxes.Y);
            Vec3 boxOffset = new Vec3(Middle(bx, boxes.X) * box.X * StepMetres.X, Middle(by, boxes.Y) * box.Y * StepMetres.Y, Middle(bz, boxes.Z) * box.Z * StepMetres.Z);
            Put(BoxOffsets, TileBoxes, b, boxOffset);
            for (int c = 0; c < BoxCells; c++)
            {
                int cx = c % box.X;
                int cy = c / box.X % box.Y;
                int cz = c / (box.X * box.Y);
                Vec3 laneOffset = new Vec3(Middle(cx, box.X) * StepMetres.X, Middle(cy, box.Y) * StepMetres.Y, Middle(cz, box.Z) * StepMetres.Z);
                Put(LaneOffsets, BoxCells, c, laneOffset);
                int n = (b * BoxCells) + c;
                FourSquaredOffsets[n] = (float)(4 * (boxOffset + laneOffset).LengthSquared);
                _cellX[n] = (bx * box.X) + cx;
                _cellY[n] = (by * box.Y) + cy;
                _cellZ[n] = (bz * box.Z) + cz;
                _places[n] = (((_cellZ[n] * CountY) + _cellY[n]) * CountX) + _cellX[n];
            }
        }

        static double Middle(int index, int count) => index - (0.5 * (count - 1));

        static void Put(float[] target, int stride, int index, Vec3 value)
        {
            target[index] = (float)value.X;
            target[stride + index] = (float)value.Y;
            target[(2 * stride) + index] = (float)value.Z;
        }
    }
}
