using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes.Facets;

/// <summary>A transmitter and a receiver in place, as the surface integral needs them.</summary>
/// <param name="TransmitterMetres">Position of the transmitter, world frame. [m]</param>
/// <param name="ReceiverMetres">Position of the receiver, world frame. [m]</param>
/// <param name="WorldFromSensor">Attitude of the sensor: X along the boresight, Y left, Z up.</param>
/// <param name="Transmit">Beam of the transmitter.</param>
/// <param name="Receive">Beam of the receiver.</param>
/// <param name="Medium">The air.</param>
public sealed record FacetSensor(
    Vec3 TransmitterMetres,
    Vec3 ReceiverMetres,
    Rotation WorldFromSensor,
    Directivity Transmit,
    Directivity Receive,
    FacetMedium Medium)
{
    /// <summary>Gets the point midway between transmitter and receiver. [m]</summary>
    public Vec3 MidpointMetres => 0.5 * (TransmitterMetres + ReceiverMetres);

    /// <summary>Returns the sensor with transmitter and receiver exchanged.</summary>
    public FacetSensor Reversed() =>
        this with { TransmitterMetres = ReceiverMetres, ReceiverMetres = TransmitterMetres, Transmit = Receive, Receive = Transmit };

    /// <summary>Makes an omnidirectional pair at one point in air that absorbs nothing, for comparison with exact solutions.</summary>
    /// <param name="positionMetres">Position of both. [m]</param>
    /// <param name="soundSpeedMetresPerSecond">Sound speed, above 0. [m/s]</param>
    public static FacetSensor Omnidirectional(Vec3 positionMetres, double soundSpeedMetresPerSecond) =>
        Omnidirectional(positionMetres, positionMetres, soundSpeedMetresPerSecond);

    /// <summary>Makes an omnidirectional pair in air that absorbs nothing, for comparison with exact solutions.</summary>
    /// <param name="transmitterMetres">Position of the transmitter. [m]</param>
    /// <param name="receiverMetres">Position of the receiver. [m]</param>
    /// <param name="soundSpeedMetresPerSecond">Sound speed, above 0. [m/s]</param>
    public static FacetSensor Omnidirectional(Vec3 transmitterMetres, Vec3 receiverMetres, double soundSpeedMetresPerSecond) =>
        new(transmitterMetres, receiverMetres, Rotation.Identity, EvenBeam.Instance, EvenBeam.Instance, FacetMedium.Lossless(soundSpeedMetresPerSecond));
}
