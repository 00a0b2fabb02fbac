using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Mounting;

/// <summary>Where a sensor is worn and where it looks, told with the wearer upright in the neutral pose. From then on the sensor
/// moves rigidly with the part of the body that carries it.</summary>
/// <param name="Site">Name of the mounting site.</param>
/// <param name="OffsetMetres">From the site to the middle of the sensor: ahead, to the left and up in the neutral pose. [m]</param>
/// <param name="Azimuth">Boresight against straight ahead, positive left.</param>
/// <param name="Tilt">Boresight against the horizontal, positive up; applied after the azimuth.</param>
/// <param name="Roll">Right-handed turn about the boresight; applied last.</param>
/// <param name="Tolerance">How far all this may be off.</param>
public sealed record Mount(string Site, Vec3 OffsetMetres, Angle Azimuth, Angle Tilt, Angle Roll, MountTolerance Tolerance)
{
    /// <summary>Gets how it swings while the wearer walks; null for a mount that is firm on the body.</summary>
    public MountSway? Sway { get; init; }
}
