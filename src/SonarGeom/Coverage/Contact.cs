using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <summary>Where the wearer, walking straight ahead, first touches an obstacle.</summary>
/// <param name="IsOnCourse">Whether the swept silhouette meets it at all.</param>
/// <param name="WalkerXMetres">X of the wearer's origin at contact; for an obstacle beside the path, when the foremost body point draws level. [m]</param>
/// <param name="BodyXMetres">X, from the wearer's origin, of the body point that touches. [m]</param>
/// <param name="LowZMetres">Lowest point of the silhouette that meets it. [m]</param>
/// <param name="HighZMetres">Highest point of the silhouette that meets it. [m]</param>
/// <param name="MiddleYMetres">Middle, across the path, of what the silhouette meets; of the whole obstacle if it meets nothing. [m]</param>
/// <param name="HalfWidthMetres">Half the width of what the silhouette meets. [m]</param>
internal readonly record struct Contact(
    bool IsOnCourse, double WalkerXMetres, double BodyXMetres, double LowZMetres, double HighZMetres, double MiddleYMetres, double HalfWidthMetres)
{
    private const double RaySpacingMetres = 0.01;
    private const int FinestDivision = 8;

    // A mesh does not say how thin it is: rays 2.5 mm apart find all that is 5 mm thick.
    private const int MeshDivision = 4;

    /// <summary>Casts rays along the path through the silhouette against the obstacle's surface.</summary>
    internal static Contact Of(PosedLayout layout, Obstacle obstacle)
    {
        if (obstacle.Kind == ObstacleKind.StepDown)
        {
            return BelowGround(layout, obstacle);
        }

        obstacle = Thickened(obstacle);
        BoundingBox bounds = obstacle.Bounds();
        double ahead = Ahead(layout, bounds.LowMetres.Y, bounds.HighMetres.Y, bounds.LowMetres.Z, bounds.HighMetres.Z);
        RayScene surface = new RayScene.Builder().AddMesh(obstacle.Mesh(), 0).Build();
        double start = bounds.LowMetres.X - 1, reach = bounds.HighMetres.X - start + 1;
        double front = 0, walkerX = double.PositiveInfinity, lowZ = double.PositiveInfinity, highZ = 0, lowY = double.PositiveInfinity, highY = double.NegativeInfinity;
        double half = layout.HalfWidthMetres, spacing = SpacingMetres(obstacle);
        int first = (int)Math.Ceiling((Math.Max(bounds.LowMetres.Y, -half) / spacing) - 0.5);
        int last = (int)Math.Floor((Math.Min(bounds.HighMetres.Y, half) / spacing) - 0.5);
        int low = (int)Math.Ceiling((Math.Max(bounds.LowMetres.Z, 0) / spacing) - 0.5);
        int high = (int)Math.Floor((Math.Min(bounds.HighMetres.Z, layout.TopMetres) / spacing) - 0.5);
        int width = Math.Max(0, last - first + 1);
        var rays = new Ray[width];
        var bodies = new double[width];
        var hits = new RayHit?[width];
        for (int row = low; row <= high; row++)
        {
            double z = (row + 0.5) * spacing;
            int count = 0;
            for (int column = first; column <= last; column++)
            {
                double y = (column + 0.5) * spacing;
                if (layout.Silhouette.ForemostXMetres(y, z) is { } foremost)
                {
                    bodies[count] = foremost;
                    rays[count++] = new Ray(new Vec3(start, y, z), Vec3.UnitX, 0, reach);
                }
            }

            surface.ClosestHits(rays.AsSpan(0, count), hits, 1);
            for (int i = 0; i < count; i++)
            {
                if (hits[i] is { } hit)
                {
                    double body = bodies[i], y = rays[i].Origin.Y;
                    double contact = start + hit.DistanceMetres - body;
                    (front, walkerX) = contact < walkerX ? (body, contact) : (front, walkerX);
                    (lowZ, highZ) = (Math.Min(lowZ, z), Math.Max(highZ, z));
                    (lowY, highY) = (Math.Min(lowY, y), Math.Max(highY, y));
                }
            }
        }

        return double.IsFinite(walkerX)
            ? new Contact(true, walkerX, front, lowZ, highZ, 0.5 * (lowY + highY), 0.5 * (highY - lowY))
            : Beside(bounds, ahead);
    }

    // What is thinner than two of the closest rays is taken as that thick: wire errs on the side of a collision.
    private static Obstacle Thickened(Obstacle obstacle)
    {
        return obstacle with
        {
            DiameterMetres = AtLeast(obstacle.DiameterMetres),
            WidthMetres = AtLeast(obstacle.WidthMetres),
            HeightMetres = AtLeast(obstacle.HeightMetres),
            DepthMetres = AtLeast(obstacle.DepthMetres),
        };

        static double AtLeast(double side) => side > 0 ? Math.Max(side, 2 * RaySpacingMetres / FinestDivision) : side;
    }

    // A whole fraction of the silhouette's cells, and at most half of the thinnest side: no rod lies unseen between two rays.
    private static double SpacingMetres(Obstacle obstacle)
    {
        if (obstacle.Kind == ObstacleKind.Mesh)
        {
            return RaySpacingMetres / MeshDivision;
        }

        double thinnest = RaySpacingMetres * 2;
        foreach (double side in (ReadOnlySpan<double>)[obstacle.DiameterMetres, obstacle.WidthMetres, obstacle.HeightMetres, obstacle.DepthMetres])
        {
            thinnest = side > 0 ? Math.Min(thinnest, side) : thinnest;
        }

        return RaySpacingMetres / Math.Min(FinestDivision, Math.Ceiling(2 * RaySpacingMetres / thinnest));
    }

    private static Contact Beside(BoundingBox bounds, double ahead) => new(
        false, bounds.LowMetres.X - ahead, ahead, bounds.LowMetres.Z, bounds.HighMetres.Z,
        0.5 * (bounds.LowMetres.Y + bounds.HighMetres.Y), 0.5 * (bounds.HighMetres.Y - bounds.LowMetres.Y));

    /// <summary>Returns the point that touches, when the gap is still a distance ahead, from the wearer's origin. [m]</summary>
    internal Vec3 PointAt(double distanceMetres) => new(BodyXMetres + distanceMetres, MiddleYMetres, 0.5 * (LowZMetres + HighZMetres));

    private static double Ahead(PosedLayout layout, double right, double left, double low, double high) =>
        layout.ForemostXMetres(0.5 * (right + left), 0.5 * (low + high), 0.5 * (left - right), 0.5 * (high - low));

    // A step down meets no body surface; it is on course when its lip crosses the width of the stance, and reached by the toes.
    private static Contact BelowGround(PosedLayout layout, Obstacle step)
    {
        double half = layout.HalfWidthMetres;
        Vec3 one = step.WorldFromObstacle.ApplyToPoint(new Vec3(0, -0.5 * step.WidthMetres, 0));
        Vec3 other = step.WorldFromObstacle.ApplyToPoint(new Vec3(0, 0.5 * step.WidthMetres, 0));
        (Vec3 rightEnd, Vec3 leftEnd) = one.Y <= other.Y ? (one, other) : (other, one);
        double right = Math.Max(rightEnd.Y, -half), left = Math.Min(leftEnd.Y, half);
        bool isOnCourse = left > right;
        double lip = isOnCourse ? Math.Min(LipAt(right), LipAt(left)) : Math.Min(rightEnd.X, leftEnd.X);
        double toes = Ahead(layout, -half, half, 0, 0.12);
        return isOnCourse
            ? new Contact(true, lip - toes, toes, 0, 0.02, 0.5 * (right + left), 0.5 * (left - right))
            : new Contact(false, lip - toes, toes, 0, 0.02, 0.5 * (rightEnd.Y + leftEnd.Y), 0.5 * (leftEnd.Y - rightEnd.Y));

        double LipAt(double y) => leftEnd.Y - rightEnd.Y < 1e-9
            ? Math.Min(rightEnd.X, leftEnd.X)
            : rightEnd.X + ((leftEnd.X - rightEnd.X) * (y - rightEnd.Y) / (leftEnd.Y - rightEnd.Y));
    }
}
