using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <summary>
/// Collects bounds on the coefficients of an echo while it is computed, weighted with what the beams at their points can do: see
/// <see cref="GrossEcho"/>. One for each thread, used again and again.
/// </summary>
internal sealed class GrossSum
{
    // Chord to angle: at most 1.05 up to a chord of one.
    private const double AnglePerChord = 1.05;

    // Ratios that can change by more than this in the logarithm while the sensor turns are not bounded as ratios.
    private const double LargestSpread = 1;

    private BeamBends? _transmit;
    private BeamBends? _receive;
    private double _factor;
    private double _angleFromTransmitter;
    private double _angleFromReceiver;
    private double _slopeThere;

    /// <summary>Gets the sums; unknown until an echo has begun them.</summary>
    internal GrossEcho Total { get; private set; } = GrossEcho.Unknown;

    /// <summary>Gets the point that ratios are measured against, in the part's own place. [m]</summary>
    internal Vec3 Glint { get; private set; }

    /// <summary>Gets the unit direction from the transmitter to that point, along the sensor's axes.</summary>
    internal Vec3 TowardsFromTransmitter { get; private set; }

    /// <summary>Gets the same from the receiver.</summary>
    internal Vec3 TowardsFromReceiver { get; private set; }

    /// <summary>The angles of given cosines, rounded up; +∞ where the chord is longer than one.</summary>
    internal static Vector512<double> AnglesApart(Vector512<double> cosines)
    {
        Vector512<double> square = Vector512.Max(Vector512.Create(2.0) - (cosines + cosines), Vector512<double>.Zero) + Vector512.Create(1e-14);
        Vector512<double> angle = Vector512.Sqrt(square) * AnglePerChord;
        return Vector512.ConditionalSelect(Vector512.LessThan(square, Vector512<double>.One), angle, Vector512.Create(double.PositiveInfinity));
    }

    /// <summary>Nothing is known until an echo begins.</summary>
    internal void Clear() => (Total, Glint) = (GrossEcho.Unknown, Vec3.Zero);

    /// <summary>Begins the sums of an echo.</summary>
    /// <param name="view">The sensor.</param>
    /// <param name="glint">The point that answers, in the part's own place. [m]</param>
    /// <param name="factor">What all coefficients are multiplied by, the largest over the frequencies.</param>
    internal void Begin(in EchoView view, Vec3 glint, double factor = 1)
    {
        // Any point near by will do, as long as it is the same here and later: it is kept in half precision.
        Glint = new Vec3((double)(Half)glint.X, (double)(Half)glint.Y, (double)(Half)glint.Z);
        Total = default;
        _factor = factor;
        (_transmit, _receive) = (view.Block.TransmitBends, view.Block.ReceiveBends);
        TowardsFromTransmitter = view.Axes.ApplyInverse((Glint - view.Transmitter).Normalized());
        TowardsFromReceiver = view.Axes.ApplyInverse((Glint - view.Receiver).Normalized());
        _angleFromTransmitter = BeamBends.Angle(TowardsFromTransmitter.X);
        _angleFromReceiver = BeamBends.Angle(TowardsFromReceiver.X);
        _slopeThere = _transmit.At(_angleFromTransmitter).Slope + _receive.At(_angleFromReceiver).Slope;
    }

    /// <summary>Adds eight coefficients with their points. Those that are nought do not count.</summary>
    /// <param name="coefficients">The coefficients.</param>
    /// <param name="apart">Angles from the point that answers. [rad]</param>
    /// <param name="offTransmitter">Cosines off the boresight, seen from the transmitter.</param>
    /// <param name="offReceiver">The same from the receiver.</param>
    internal void Add(Vector512<double> coefficients, Vector512<double> apart, Vector512<double> offTransmitter, Vector512<double> offReceiver)
    {
        Vector512<double> outward = BeamBends.Angles(offTransmitter), back = BeamBends.Angles(offReceiver);
        for (int i = 0; i < Vector512<double>.Count; i++)
        {
            if (coefficients[i] != 0)
            {
                Add(coefficients[i], apart[i], outward[i], back[i]);
            }
        }
    }

    /// <summary>Adds the coefficients of the four points of a cubic, the first four of eight.</summary>
    internal void Add(in CubicShares shares, Vector512<double> apart, Vector512<double> offTransmitter, Vector512<double> offReceiver) => Add(
        Vector512.Create(Largest(shares.A), Largest(shares.B), Largest(shares.C), Largest(shares.D), 0, 0, 0, 0), apart, offTransmitter, offReceiver);

    /// <summary>Adds one coefficient at a point.</summary>
    internal void Add(in EchoView view, Vec3 point, double coefficient)
    {
        Vec3 outward = view.Axes.ApplyInverse((point - view.Transmitter).Normalized());
        Vec3 back = view.Axes.ApplyInverse((point - view.Receiver).Normalized());
        double cosine = Math.Min(outward.Dot(TowardsFromTransmitter), back.Dot(TowardsFromReceiver));
        Add(coefficient, AnglesApart(Vector512.Create(cosine))[0], BeamBends.Angle(outward.X), BeamBends.Angle(back.X));
    }

    private static double Largest(in LaneComplex value)
    {
        Vector512<double> power = value.Power;
        double largest = 0;
        for (int i = 0; i < LaneBlock.Lanes; i++)
        {
            largest = Math.Max(largest, power[i]);
        }

        return Math.Sqrt(largest);
    }

    private void Add(double coefficient, double apart, double outward, double back)
    {
        coefficient *= _factor;
        ref readonly BeamFacts t = ref _transmit!.At(outward);
        ref readonly BeamFacts r = ref _receive!.At(back);
        ref readonly BeamFacts tFar = ref _transmit.At(Math.Max(outward, _angleFromTransmitter));
        ref readonly BeamFacts rFar = ref _receive.At(Math.Max(back, _angleFromReceiver));
        double loud = coefficient * t.Near * r.Near;
        double slope = coefficient * ((t.Near * r.Steepest) + (r.Near * t.Steepest));
        double here = coefficient * t.Here * r.Here;
        double bend = tFar.Bend + rFar.Bend, turning = tFar.Slope + rFar.Slope;
        double asRatio = apart * (bend + ((apart + BeamBends.LargestTurnRadians) * turning));
        bool isRatio = apart * (bend + turning) * BeamBends.LargestTurnRadians < LargestSpread && here * asRatio < slope + (here * _slopeThere);
        Total += isRatio ? new GrossEcho(loud, slope, here * asRatio, here * apart * turning, 0, 0) : new GrossEcho(loud, slope, 0, 0, here, slope);
    }
}
