using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <summary>
/// Collects, while an echo is computed, its slopes over the boresight and bounds on its coefficients, weighted with what the beams at
/// their points can do: see <see cref="GrossEcho"/>. One for each thread, used again and again.
/// </summary>
internal sealed class GrossSum
{
    // Below this the level may have been cut off, and only bounds are known.
    private const double FaintestPower = 1e-36;

    private BeamBends? _transmit;
    private BeamBends? _receive;
    private Vector512<double> _factor;
    private double _largestFactor;
    private LaneComplex _y;
    private LaneComplex _z;
    private LaneComplex _pendingY;
    private LaneComplex _pendingZ;
    private double _move;
    private double _moveSteps;
    private double _leastRange;

    /// <summary>Gets the bounds; unknown until an echo has begun them.</summary>
    internal GrossEcho Total { get; private set; } = GrossEcho.Unknown;

    /// <summary>Gets the complex slopes of the echo when the boresight moves along the sensor's Y axis. [1/rad]</summary>
    internal LaneComplex SlopeY => _y;

    /// <summary>Gets the same along its Z axis. [1/rad]</summary>
    internal LaneComplex SlopeZ => _z;

    /// <summary>Gets half the distance between transmitter and receiver; 0 for faces that no turn moves. [m]</summary>
    internal double ArmMetres { get; private set; }

    /// <summary>What an echo can turn to, over what it is; set when it is complete.</summary>
    internal TurnReach Reach { get; private set; } = TurnReach.Unknown;

    /// <summary>Nothing is known until an echo begins.</summary>
    internal void Clear() => (Total, Reach) = (GrossEcho.Unknown, TurnReach.Unknown);

    /// <summary>Begins the sums of an echo.</summary>
    /// <param name="view">The sensor.</param>
    /// <param name="factor">What all coefficients are multiplied by at every frequency.</param>
    internal void Begin(in EchoView view, Vector512<double> factor)
    {
        Total = default;
        (_y, _z, _pendingY, _pendingZ) = (default, default, default, default);
        (_move, _moveSteps, _leastRange) = (0, 0, double.PositiveInfinity);
        ArmMetres = 0.5 * view.Transmitter.DistanceTo(view.Receiver);
        _factor = factor;
        _largestFactor = Largest(Vector512.Abs(factor));
        (_transmit, _receive) = (view.Block.TransmitBends, view.Block.ReceiveBends);
    }

    /// <summary>Adds one ray by way of a point, as <see cref="EchoView.Ray"/> computes it.</summary>
    internal void AddRay(in EchoView view, Vec3 point, Vector512<double> amplitude)
    {
        Vec3 outward = view.Axes.ApplyInverse((point - view.Transmitter).Normalized());
        Vec3 back = view.Axes.ApplyInverse((point - view.Receiver).Normalized());
        LaneComplex travel = view.Travel((point - view.Transmitter).Length + (point - view.Receiver).Length) * (amplitude * _factor);
        DirectivityTable transmit = view.Block.Transmit, receive = view.Block.Receive;
        Vector512<double> t = transmit.SlopeAtCosine(outward.X) * receive.AtCosine(back.X);
        Vector512<double> r = transmit.AtCosine(outward.X) * receive.SlopeAtCosine(back.X);
        _y += travel * ((t * outward.Y) + (r * back.Y));
        _z += travel * ((t * outward.Z) + (r * back.Z));
        Add(Largest(Vector512.Abs(amplitude)), BeamBends.Angle(outward.X), BeamBends.Angle(back.X));
    }

    /// <summary>Adds eight coefficients with their points. Those that are nought do not count.</summary>
    /// <param name="coefficients">The coefficients.</param>
    /// <param name="offTransmitter">Cosines off the boresight, seen from the transmitter.</param>
    /// <param name="offReceiver">The same from the receiver.</param>
    internal void Add(Vector512<double> coefficients, Vector512<double> offTransmitter, Vector512<double> offReceiver)
    {
        Vector512<double> outward = BeamBends.Angles(offTransmitter), back = BeamBends.Angles(offReceiver);
        for (int i = 0; i < Vector512<double>.Count; i++)
        {
            if (coefficients[i] != 0)
            {
                Add(coefficients[i], outward[i], back[i]);
            }
        }
    }

    /// <summary>Adds the coefficients of the four points of a cubic, the first four of eight.</summary>
    internal void Add(in CubicShares shares, Vector512<double> offTransmitter, Vector512<double> offReceiver) => Add(
        Vector512.Create(Largest(shares.A), Largest(shares.B), Largest(shares.C), Largest(shares.D), 0, 0, 0, 0), offTransmitter, offReceiver);

    /// <summary>Adds what a move of the faces can do to eight pieces: see <see cref="FaceMove"/>.</summary>
    /// <param name="sizes">Their sizes without beams.</param>
    /// <param name="changes">What each changes by, beams left out. [1/m]</param>
    /// <param name="offTransmitter">Cosines off the boresight, seen from the transmitter.</param>
    /// <param name="offReceiver">The same from the receiver.</param>
    /// <param name="range">Least distance, the move included. [m]</param>
    internal void AddMoves(
        Vector512<double> sizes, Vector512<double> changes, Vector512<double> offTransmitter, Vector512<double> offReceiver, double range)
    {
        Vector512<double> outward = BeamBends.Angles(offTransmitter), back = BeamBends.Angles(offReceiver);
        for (int i = 0; i < Vector512<double>.Count; i++)
        {
            AddMove(sizes[i], changes[i], outward[i], back[i], range);
        }
    }

    /// <summary>The same of one ray by way of a point.</summary>
    internal void AddMove(in EchoView view, Vec3 point, double size, double rate, double range) => AddMove(
        size, size * rate, BeamBends.Angle((point - view.Transmitter).Normalized().Dot(view.Axes.AxisX)),
        BeamBends.Angle((point - view.Receiver).Normalized().Dot(view.Axes.AxisX)), range);

    /// <summary>The faces may not move.</summary>
    internal void CannotMove() => _move = double.PositiveInfinity;

    /// <summary>Adds slopes that are still to be multiplied by what <see cref="Settle"/> brings.</summary>
    internal void AddSlopes(in LaneComplex y, in LaneComplex z) => (_pendingY, _pendingZ) = (_pendingY + y, _pendingZ + z);

    /// <summary>Multiplies the slopes added since by a real number at every frequency, at most 1, and adds them to the whole.</summary>
    internal void Settle(Vector512<double> decay)
    {
        decay *= _factor;
        (_y, _z) = (_y + (_pendingY * decay), _z + (_pendingZ * decay));
        (_pendingY, _pendingZ) = (default, default);
    }

    /// <summary>Multiplies the whole by a real number at every frequency, at most 1.</summary>
    internal void Multiply(Vector512<double> factor) => (_y, _z) = (_y * factor, _z * factor);

    /// <summary>The echo is complete.</summary>
    /// <param name="pressure">The pressures that the slopes belong to.</param>
    /// <param name="weights">Shares of the frequencies in the power.</param>
    /// <param name="offsetDecibels">The largest level that a pressure of 1 can have. [dB]</param>
    internal void Complete(in LaneComplex pressure, Vector512<double> weights, double offsetDecibels)
    {
        double power = Vector512.Sum(pressure.Power * weights);
        (double move, double steps) = ArmMetres > 0 ? (_move, _moveSteps + (FaceMove.FormAllowance(_leastRange) * Total.Loud[0])) : default;
        if (!(power > FaintestPower))
        {
            Reach = TurnReach.OfFaint(Total, move, steps, offsetDecibels - PartEcho.SilentDecibels);
            return;
        }

        Reach = new TurnReach(
            Total, move, steps, power, Product(pressure, _y, weights), Product(pressure, _z, weights), Product(_y, _y, weights), Product(_y, _z, weights),
            Product(_z, _z, weights));
    }

    private static double Product(in LaneComplex a, in LaneComplex b, Vector512<double> weights) =>
        Vector512.Sum(((a.Real * b.Real) + (a.Imaginary * b.Imaginary)) * weights);

    /// <summary>The least of eight.</summary>
    internal static double Least(Vector512<double> values) => -Largest(-values);

    private static double Largest(in LaneComplex value) => Math.Sqrt(Largest(value.Power));

    /// <summary>The largest of eight.</summary>
    internal static double Largest(Vector512<double> values)
    {
        Vector256<double> four = Vector256.Max(values.GetLower(), values.GetUpper());
        Vector128<double> two = Vector128.Max(four.GetLower(), four.GetUpper());
        return Math.Max(two[0], two[1]);
    }

    private void AddMove(double size, double change, double outward, double back, double range)
    {
        ref readonly (float Near, float Steepest, float Step) t = ref _transmit!.WideAt(outward);
        ref readonly (float Near, float Steepest, float Step) r = ref _receive!.WideAt(back);
        double tNear = (double)t.Near + t.Step, rNear = (double)r.Near + r.Step, slope = (tNear * r.Steepest) + (t.Steepest * rNear);
        _move += _largestFactor * ((tNear * rNear * change) + (size * slope / range));
        _leastRange = Math.Min(_leastRange, range);
        _moveSteps += _largestFactor * size * ((t.Step * rNear) + (tNear * r.Step) + ((double)t.Step * r.Step));
    }

    private void Add(double coefficient, double outward, double back)
    {
        // Single precision is good to a millionth of the sum; what becomes of it is rounded up by a thousandth.
        var size = Vector128.Create((float)(coefficient * _largestFactor));
        ref readonly BeamFacts t = ref _transmit!.At(outward);
        ref readonly BeamFacts r = ref _receive!.At(back);
        Vector128<float> slopes = t.Steepest * r.Steepest, tNear = t.Near + t.Step, rNear = r.Near + r.Step;
        Vector128<float> bend = (t.Bend * rNear) + (slopes + slopes) + (tNear * r.Bend);
        Total += new GrossEcho(size * (t.Near * r.Near), size * bend, size * ((t.Step * rNear) + (tNear * r.Step) + (t.Step * r.Step)));
    }
}
