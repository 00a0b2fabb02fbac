using SonarGeom.Geometry;

namespace SonarGeom.Coverage.Kernels;

/// <summary>A track laid out for the tile kernels: poses in rows of numbers, padded to whole groups of 16 phases, and the
/// figures that depend on the tile's shape. Immutable after construction, shared between threads.</summary>
internal sealed class TileTrack
{
    /// <summary>Phases are worked on in groups of this many.</summary>
    internal const int Group = 16;

    /// <summary>The largest change of the exponent from the centre of a tile, in nepers, for which a cubic is good enough.</summary>
    internal const float LargestShortExponent = 0.09f;

    /// <summary>The same for the fourth power of the cubic of a quarter of it.</summary>
    internal const float LargestLongExponent = 4 * LargestShortExponent;

    internal TileTrack(FieldTrack track, FieldLattice lattice)
    {
        Phases = track.Phases.Length;
        Stride = (Phases + Group - 1) / Group * Group;
        Transmit = track.Echo.Transmit;
        Receive = track.Echo.Receive;
        Rows = new float[RowCount * Stride];
        Vec3 h = lattice.HalfExtentMetres;
        double reach = 0;
        for (int i = 0; i < Stride; i++)
        {
            FieldPose pose = track.Phases[Math.Min(i, Phases - 1)];
            Vec3 a = pose.UnitAxis;
            Put(RowTransmitter, i, pose.TransmitterMetres);
            Put(RowReceiver, i, pose.ReceiverMetres);
            Put(RowAxis, i, a);
            Vec3 apart = pose.TransmitterMetres - pose.ReceiverMetres;
            Rows[At(RowAxialStep, i)] = (float)a.Dot(apart);
            Rows[At(RowHalfBaseline, i)] = (float)(0.5 * apart.Length);
            Rows[At(RowAxialReach, i)] = (float)((Math.Abs(a.X) * h.X) + (Math.Abs(a.Y) * h.Y) + (Math.Abs(a.Z) * h.Z));
            Rows[At(RowSidewaysReach, i)] = (float)SidewaysReach(a, h);
            Rows[At(RowIsPhase, i)] = i < Phases ? 1 : 0;
            Rows[At(RowFarthestPath, i)] = (float)(2 * Math.Min(pose.FarthestRangeMetres, track.Echo.Threshold.FarthestRangeMetres));
            reach = Math.Max(reach, h.Length + apart.Length);
        }

        // Exponents are nepers of amplitude over path; the threshold is subtracted, so that a margin of 0 dB is an amplitude of 1.
        FieldThreshold threshold = track.Echo.Threshold;
        Absorption = (float)(track.Echo.AbsorptionDecibelsPerMetre * FieldEcho.NepersPerDecibel);
        Exponent = (float)((track.Echo.LevelAtOneMetreDecibels - threshold.Points[0].LevelDecibels) * FieldEcho.NepersPerDecibel);
        NearestPath = (float)(2 * threshold.NearestRangeMetres);
        (KneePaths, KneeSlopes) = Knees(threshold);
        KneeExponents = [.. KneePaths.Select(path => (float)ExponentAt(threshold, track.Echo, path))];
        BeamCoefficients = Transmit.IsPolynomial && Receive.IsPolynomial ? Paired(Transmit.Coefficients, Receive.Coefficients) : [];
        IsShortExponent = KneePaths.Length == 0 && 2 * reach * Absorption <= LargestShortExponent;
    }

    internal const int RowTransmitter = 0;
    internal const int RowReceiver = 3;
    internal const int RowAxis = 6;
    internal const int RowAxialStep = 9;
    internal const int RowHalfBaseline = 10;
    internal const int RowAxialReach = 11;
    internal const int RowSidewaysReach = 12;
    internal const int RowIsPhase = 13;
    internal const int RowFarthestPath = 14;
    private const int RowCount = 15;

    /// <summary>Number of stride phases.</summary>
    internal int Phases { get; }

    /// <summary>Number of phases, padded to whole groups.</summary>
    internal int Stride { get; }

    internal FieldBeam Transmit { get; }

    internal FieldBeam Receive { get; }

    /// <summary>The rows named by the constants above, for one group of phases after the other.</summary>
    internal float[] Rows { get; }

    /// <summary>Absorption along a path. [Np/m]</summary>
    internal float Absorption { get; }

    /// <summary>Level at one metre over the threshold at its first point. [Np]</summary>
    internal float Exponent { get; }

    /// <summary>The shortest path listened to. [m]</summary>
    internal float NearestPath { get; }

    /// <summary>The paths at which the slope of the threshold changes, and by how much. [m, Np/m]</summary>
    internal float[] KneePaths { get; }

    internal float[] KneeSlopes { get; }

    /// <summary>Absorption and threshold taken from the level at those paths. [Np]</summary>
    internal float[] KneeExponents { get; }

    /// <summary>Whether the exponential is a cubic about the centre of a tile; else the fourth power of one.</summary>
    internal bool IsShortExponent { get; }

    /// <summary>The coefficients of both beams' polynomials, made equally long, highest power first, transmitter and receiver in
    /// turn; none when one of them is a table.</summary>
    internal float[] BeamCoefficients { get; }

    /// <summary>Returns where a row of a phase is.</summary>
    internal static int At(int row, int phase) => (((phase / Group * RowCount) + row) * Group) + (phase % Group);

    /// <summary>The farthest that a cell of a tile can be from its centre, across an axis. [m]</summary>
    private static double SidewaysReach(Vec3 axis, Vec3 half)
    {
        double farthest = 0;
        for (int corner = 0; corner < 4; corner++)
        {
            Vec3 u = new((corner & 1) == 0 ? half.X : -half.X, (corner & 2) == 0 ? half.Y : -half.Y, half.Z);
            double along = u.Dot(axis);
            farthest = Math.Max(farthest, u.LengthSquared - (along * along));
        }

        return Math.Sqrt(Math.Max(0, farthest));
    }

    private static float[] Paired(float[] first, float[] second)
    {
        int length = Math.Max(first.Length, second.Length);
        var paired = new float[2 * length];
        for (int i = 0; i < length; i++)
        {
            paired[2 * (length - 1 - i)] = i < first.Length ? first[i] : 0;
            paired[(2 * (length - 1 - i)) + 1] = i < second.Length ? second[i] : 0;
        }

        return paired;
    }

    private static double ExponentAt(FieldThreshold threshold, FieldEcho echo, double path)
    {
        double level = new FieldThreshold(threshold.Points).LevelDecibels(0.5 * path);
        return FieldEcho.NepersPerDecibel * (echo.LevelAtOneMetreDecibels - level - (echo.AbsorptionDecibelsPerMetre * path));
    }

    private static (float[] Paths, float[] Slopes) Knees(FieldThreshold threshold)
    {
        var paths = new List<float>();
        var slopes = new List<float>();
        double slope = 0;
        for (int i = 0; i < threshold.Points.Length; i++)
        {
            double next = 0;
            if (i + 1 < threshold.Points.Length)
            {
                FieldThresholdPoint a = threshold.Points[i];
                FieldThresholdPoint b = threshold.Points[i + 1];
                next = FieldEcho.NepersPerDecibel * (b.LevelDecibels - a.LevelDecibels) / (2 * (b.RangeMetres - a.RangeMetres));
            }

            if (next != slope)
            {
                paths.Add((float)(2 * threshold.Points[i].RangeMetres));
                slopes.Add((float)(next - slope));
            }

            slope = next;
        }

        return ([.. paths], [.. slopes]);
    }

    private void Put(int row, int index, Vec3 value)
    {
        Rows[At(row, index)] = (float)value.X;
        Rows[At(row + 1, index)] = (float)value.Y;
        Rows[At(row + 2, index)] = (float)value.Z;
    }
}
