using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes;

/// <summary>A prepared transducer at a pose. Cheap to make: one for every sensor and moment. Immutable.</summary>
public sealed class SensorAtPose
{
    private readonly Rotation _axes;

    /// <summary>Places a prepared transducer.</summary>
    /// <param name="prepared">The transducer in its air.</param>
    /// <param name="worldFromSensor">Its pose.</param>
    public SensorAtPose(PreparedTransducer prepared, RigidTransform worldFromSensor)
    {
        ArgumentNullException.ThrowIfNull(prepared);
        Prepared = prepared;
        WorldFromSensor = worldFromSensor;
        _axes = worldFromSensor.Rotation;
        TransmitterMetres = worldFromSensor.ApplyToPoint(prepared.Transducer.TransmitterOffsetMetres);
        ReceiverMetres = worldFromSensor.ApplyToPoint(prepared.Transducer.ReceiverOffsetMetres);
    }

    /// <summary>Gets the transducer in its air.</summary>
    public PreparedTransducer Prepared { get; }

    /// <summary>Gets the transducer.</summary>
    public Transducer Transducer => Prepared.Transducer;

    /// <summary>Gets the pose.</summary>
    public RigidTransform WorldFromSensor { get; }

    /// <summary>Gets the position of the transmitter. [m]</summary>
    public Vec3 TransmitterMetres { get; }

    /// <summary>Gets the position of the receiver. [m]</summary>
    public Vec3 ReceiverMetres { get; }

    /// <summary>Gets the point half way between transmitter and receiver. [m]</summary>
    public Vec3 MidpointMetres => 0.5 * (TransmitterMetres + ReceiverMetres);

    /// <summary>Gets the boresight, a unit direction.</summary>
    public Vec3 Boresight => _axes.AxisX;

    internal ref readonly Rotation Axes => ref _axes;

    /// <summary>Returns the signed amplitude of the transmitter's beam towards a point, at the nominal frequency. [unitless]</summary>
    /// <param name="pointMetres">The point. [m]</param>
    public double TransmitAmplitude(Vec3 pointMetres) => Amplitude(Transducer.Transmit, pointMetres - TransmitterMetres);

    /// <summary>Returns the signed amplitude of the receiver's beam towards a point, at the nominal frequency. [unitless]</summary>
    /// <param name="pointMetres">The point. [m]</param>
    public double ReceiveAmplitude(Vec3 pointMetres) => Amplitude(Transducer.Receive, pointMetres - ReceiverMetres);

    /// <summary>Returns the sensor turned in the world about the middle between its faces.</summary>
    /// <param name="turn">The turn.</param>
    internal SensorAtPose TurnedAboutMiddle(Rotation turn)
    {
        Vec3 middle = MidpointMetres;
        return new SensorAtPose(Prepared, new RigidTransform(turn * WorldFromSensor.Rotation, middle + turn.Apply(WorldFromSensor.Translation - middle)));
    }

    private double Amplitude(Directivity directivity, Vec3 towards)
    {
        double length = towards.Length;
        return length > 0
            ? directivity.Amplitude(_axes.ApplyInverse(towards / length), Prepared.WavenumberRadiansPerMetre)
            : 0;
    }
}
