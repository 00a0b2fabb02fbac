using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Trials;

/// <summary>An obstacle near the wearer, where it is at one moment.</summary>
/// <param name="Index">Its index in the place.</param>
/// <param name="Hazard">The obstacle.</param>
/// <param name="OffsetMetres">How far it is from where it is listed. [m]</param>
/// <param name="IsWatched">Whether it is about to be touched without an alert.</param>
internal readonly record struct NearHazard(int Index, Hazard Hazard, Vec3 OffsetMetres, bool IsWatched)
{
    /// <summary>Returns the distance from a point to its bounding box: no echo comes from nearer. [m]</summary>
    internal double DistanceMetres(Vec3 point)
    {
        BoundingBox box = Hazard.Box;
        Vec3 p = point - OffsetMetres;
        double x = Math.Max(Math.Max(box.LowMetres.X - p.X, p.X - box.HighMetres.X), 0);
        double y = Math.Max(Math.Max(box.LowMetres.Y - p.Y, p.Y - box.HighMetres.Y), 0);
        double z = Math.Max(Math.Max(box.LowMetres.Z - p.Z, p.Z - box.HighMetres.Z), 0);
        return Math.Sqrt((x * x) + (y * y) + (z * z));
    }

    /// <summary>Returns the distance from a point to the farthest corner of its bounding box. [m]</summary>
    internal double FarthestMetres(Vec3 point)
    {
        BoundingBox box = Hazard.Box;
        Vec3 p = point - OffsetMetres;
        double x = Math.Max(Math.Abs(box.LowMetres.X - p.X), Math.Abs(box.HighMetres.X - p.X));
        double y = Math.Max(Math.Abs(box.LowMetres.Y - p.Y), Math.Abs(box.HighMetres.Y - p.Y));
        double z = Math.Max(Math.Abs(box.LowMetres.Z - p.Z), Math.Abs(box.HighMetres.Z - p.Z));
        return Math.Sqrt((x * x) + (y * y) + (z * z));
    }

    /// <summary>Whether all of its bounding box lies behind the face of a sensor, where no beam reaches.</summary>
    internal bool IsBehind(Vec3 point, Vec3 boresight)
    {
        // Transmitter and receiver may be apart by a few centimetres: what is just ahead of either counts as ahead.
        const double ReserveMetres = 0.1;
        BoundingBox box = Hazard.Box;
        var farthest = new Vec3(
            boresight.X > 0 ? box.HighMetres.X : box.LowMetres.X,
            boresight.Y > 0 ? box.HighMetres.Y : box.LowMetres.Y,
            boresight.Z > 0 ? box.HighMetres.Z : box.LowMetres.Z);
        return (farthest + OffsetMetres - point).Dot(boresight) < -ReserveMetres;
    }

    /// <summary>Returns an angle to the boresight below which no point of the obstacle lies. [rad]</summary>
    internal double LeastAngleRadians(Vec3 point, Vec3 boresight)
    {
        // Seen from transmitter and receiver, some centimetres either side, things nearby lie a little elsewhere.
        const double ApartMetres = 0.03;
        BoundingBox box = Hazard.Box;
        Vec3 towards = (0.5 * (box.LowMetres + box.HighMetres)) + OffsetMetres - point;
        double distance = towards.Length, radius = (0.5 * box.LowMetres.DistanceTo(box.HighMetres)) + ApartMetres;
        if (distance <= radius)
        {
            return 0;
        }

        double angle = Math.Acos(Math.Clamp(towards.Dot(boresight) / distance, -1, 1));
        return Math.Max(0, angle - Math.Asin(radius / distance));
    }
}
