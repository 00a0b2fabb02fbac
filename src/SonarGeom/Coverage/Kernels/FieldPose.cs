using SonarGeom.Geometry;

namespace SonarGeom.Coverage.Kernels;

/// <summary>Where a sensor is at one moment.</summary>
/// <param name="TransmitterMetres">Centre of the transmitting face, world frame. [m]</param>
/// <param name="ReceiverMetres">Centre of the receiving face, world frame. [m]</param>
/// <param name="UnitAxis">The common boresight of both, a unit vector, world frame.</param>
/// <param name="FarthestRangeMetres">Nothing is detected from farther away, for another echo comes first: half the path out and
/// back, above 0. [m]</param>
public readonly record struct FieldPose(
    Vec3 TransmitterMetres, Vec3 ReceiverMetres, Vec3 UnitAxis, double FarthestRangeMetres = double.PositiveInfinity)
{
    /// <summary>Returns the mirror image in the plane Y = 0.</summary>
    public FieldPose MirroredLeftRight() =>
        new(TransmitterMetres.MirroredLeftRight(), ReceiverMetres.MirroredLeftRight(), UnitAxis.MirroredLeftRight(), FarthestRangeMetres);
}
