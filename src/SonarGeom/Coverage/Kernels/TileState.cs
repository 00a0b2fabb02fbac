namespace SonarGeom.Coverage.Kernels;

/// <summary>What is known of one tile while it is worked on. Memory of one thread, reused from tile to tile.</summary>
internal sealed class TileState
{
    internal TileState(IReadOnlyList<TileTrack> tracks, int phases)
    {
        Constants = [.. tracks.Select(track => new float[TileConstant.Count * track.Stride])];
        Upper = [.. tracks.Select(track => new float[track.Stride])];
        Lower = [.. tracks.Select(track => new float[track.Stride])];
        IsPrepared = new bool[tracks.Count];
        Masks = new ulong[phases];
        Chosen = new int[phases];
    }

    /// <summary>For each track, the rows named by <see cref="TileConstant"/>, for one group of phases after the other.</summary>
    internal float[][] Constants { get; }

    /// <summary>For each track and phase, a bound that no cell's amplitude over the threshold exceeds.</summary>
    internal float[][] Upper { get; }

    /// <summary>For each track and phase, a bound that every cell's amplitude over the threshold reaches.</summary>
    internal float[][] Lower { get; }

    /// <summary>For each track, whether its figures are those of this tile.</summary>
    internal bool[] IsPrepared { get; }

    /// <summary>For each phase, one bit for each cell that is detected.</summary>
    internal ulong[] Masks { get; }

    /// <summary>For each cell, the largest amplitude over the threshold so far.</summary>
    internal float[] Best { get; } = new float[FieldLattice.TileCells];

    /// <summary>Room for a list of phases.</summary>
    internal int[] Chosen { get; }

    /// <summary>Evaluations made so far, over all tiles.</summary>
    internal long Evaluations { get; set; }

    internal void Clear()
    {
        Array.Clear(IsPrepared);
        Array.Clear(Masks);
        Array.Clear(Best);
    }
}

/// <summary>The rows of figures that the evaluation of a tile's cells starts from: one number for each phase of a group.</summary>
internal static class TileConstant
{
    /// <summary>Eight times the vector from the transmitter to the tile's centre. [m]</summary>
    internal const int EightTransmitter = 0;

    /// <summary>Eight times the vector from the receiver. [m]</summary>
    internal const int EightReceiver = 3;

    /// <summary>Four times the squared distance from the transmitter to each box, less that from the tile's centre to it. [m²]</summary>
    internal const int TransmitterBoxes = 6;

    /// <summary>The same from the receiver. [m²]</summary>
    internal const int ReceiverBoxes = 10;

    /// <summary>The distance of each box along the axis from the transmitter. [m]</summary>
    internal const int AxialBoxes = 14;

    /// <summary>The amplitude factor at the tile's centre, or its fourth root, and its half and its sixth.</summary>
    internal const int Factor = 18;

    /// <summary>The exponent's change with four times the path, or a quarter of it. [Np/m]</summary>
    internal const int Slope = 21;

    /// <summary>That times four times the path to the tile's centre, with the other sign. [Np]</summary>
    internal const int Centre = 22;

    /// <summary>Above 0 where the whole tile is in front of both faces.</summary>
    internal const int InFront = 23;

    /// <summary>Above 0 where cells must be evaluated without shortcuts.</summary>
    internal const int IsSpecial = 24;

    /// <summary>The path to the tile's centre and back. [m]</summary>
    internal const int CentrePath = 25;

    /// <summary>Level over the threshold at that path without spreading and beams. [Np]</summary>
    internal const int CentreExponent = 26;

    /// <summary>Absorption and rise of the threshold along the path there. [Np/m]</summary>
    internal const int Decline = 27;

    /// <summary>Number of rows.</summary>
    internal const int Count = 28;

    /// <summary>Returns where a row of a phase is.</summary>
    internal static int At(int row, int phase) =>
        (((phase / TileTrack.Group * Count) + row) * TileTrack.Group) + (phase % TileTrack.Group);
}
