using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <summary>A sensor as one part sees it: positions relative to the part's own place, and one block of frequencies.</summary>
internal readonly struct EchoView
{
    internal readonly Vec3 Transmitter;
    internal readonly Vec3 Receiver;
    internal readonly LaneBlock Block;

    /// <summary>Takes bounds on what the echo is summed from, or null when nobody asks.</summary>
    internal readonly GrossSum? Gross;

    private readonly SensorAtPose _sensor;

    internal EchoView(SensorAtPose sensor, Vec3 partOffset, LaneBlock block, GrossSum? gross = null)
    {
        Gross = gross;
        Transmitter = sensor.TransmitterMetres - partOffset;
        Receiver = sensor.ReceiverMetres - partOffset;
        _sensor = sensor;
        Block = block;
    }

    private EchoView(Vec3 transmitter, Vec3 receiver, in EchoView other)
    {
        Transmitter = transmitter;
        Receiver = receiver;
        _sensor = other._sensor;
        Block = other.Block;
        Gross = other.Gross;
    }

    internal ref readonly Rotation Axes => ref _sensor.Axes;

    internal Vec3 Midpoint => 0.5 * (Transmitter + Receiver);

    /// <summary>The same sensor displaced.</summary>
    internal EchoView MovedBy(Vec3 displacement) => new(Transmitter + displacement, Receiver + displacement, this);

    /// <summary>Product of both beams towards a point.</summary>
    internal Vector512<double> Beams(Vec3 fromTransmitter, double inverseOut, Vec3 fromReceiver, double inverseBack) =>
        Block.Transmit.At(fromTransmitter, inverseOut, Axes) * Block.Receive.At(fromReceiver, inverseBack, Axes);

    /// <summary>e^(ikP) with the absorption along the path. P may not be negative.</summary>
    internal LaneComplex Travel(double pathMetres) =>
        LaneMath.PhaseOnce(Block.Wavenumbers * pathMetres) * LaneMath.Decay(Block.AbsorptionNepersPerMetre, pathMetres);

    /// <summary>The complex amplitude of one ray by way of a point: both beams, phase, absorption, times an amplitude.</summary>
    internal LaneComplex Ray(Vec3 point, Vector512<double> amplitude, out double path)
    {
        Vec3 outward = point - Transmitter;
        Vec3 back = point - Receiver;
        double rT = outward.Length;
        double rR = back.Length;
        path = rT + rR;
        return Travel(path) * (Beams(outward, 1 / rT, back, 1 / rR) * amplitude);
    }
}
