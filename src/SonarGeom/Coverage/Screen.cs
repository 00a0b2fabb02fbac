using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <summary>The other obstacles of a set, which may stand between a sensor and the one in question.</summary>
public sealed class Screen
{
    // Wider than the first Fresnel radius at 40 kHz half way along 4 m (93 mm): what stays outside cannot touch the zone.
    private const double ZoneMetres = 0.15;

    private readonly ImmutableArray<BoundingBox> _boxes;
    private readonly bool _hasSolids;
    private readonly ObstacleSet _set;
    private readonly ImmutableArray<int> _leafy;

    private Screen(
        ObstacleSet set, IRayScene scene, ImmutableArray<BoundingBox> boxes, ImmutableArray<int> leafy, ImmutableArray<FoliagePart> leaves, bool hasSolids)
    {
        _set = set;
        _leafy = leafy;
        Scene = scene;
        Leaves = leaves;
        _hasSolids = hasSolids;
        _boxes = boxes;
    }

    /// <summary>Gets the surfaces, where the obstacles stand.</summary>
    public IRayScene Scene { get; }

    /// <summary>Gets the foliage, where it stands: it weakens what is behind it and blanks nothing.</summary>
    public ImmutableArray<FoliagePart> Leaves { get; }

    /// <summary>Returns all obstacles of a set but one, or null when there is no other.</summary>
    /// <param name="set">The set.</param>
    /// <param name="index">Index of the one left out.</param>
    public static Screen? OthersThan(ObstacleSet set, int index)
    {
        ArgumentNullException.ThrowIfNull(set);
        if (set.Obstacles.Length < 2)
        {
            return null;
        }

        var builder = new RayScene.Builder();
        var boxes = ImmutableArray.CreateBuilder<BoundingBox>(set.Obstacles.Length - 1);
        var leaves = ImmutableArray.CreateBuilder<FoliagePart>();
        var leafy = ImmutableArray.CreateBuilder<int>();
        for (int i = 0; i < set.Obstacles.Length; i++)
        {
            if (i != index)
            {
                if (set.Obstacles[i].Kind == ObstacleKind.Foliage)
                {
                    leaves.Add(set.Obstacles[i].LeavesPart());
                    leafy.Add(i);
                }
                else
                {
                    builder.AddMesh(set.Obstacles[i].Mesh(), i);
                }

                boxes.Add(set.Obstacles[i].Bounds());
            }
        }

        return new Screen(set, builder.Build(), boxes.ToImmutable(), leafy.ToImmutable(), leaves.ToImmutable(), leaves.Count < boxes.Count);
    }

    /// <summary>Returns what the screen takes from an echo, 0 or negative. [dB]</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="glintMetres">The point that answers. [m]</param>
    /// <param name="offsetMetres">How far all obstacles are displaced. [m]</param>
    public double EchoLossDecibels(SensorAtPose sensor, Vec3 glintMetres, Vec3 offsetMetres)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        Vec3 from = sensor.MidpointMetres - offsetMetres, to = glintMetres - offsetMetres;
        foreach (BoundingBox box in _boxes)
        {
            if (Overlaps(from.X, to.X, box.LowMetres.X, box.HighMetres.X)
                && Overlaps(from.Y, to.Y, box.LowMetres.Y, box.HighMetres.Y)
                && Overlaps(from.Z, to.Z, box.LowMetres.Z, box.HighMetres.Z))
            {
                double solids = _hasSolids ? Occlusion.EchoLossDecibels(new MovedScene(Scene, offsetMetres), sensor, glintMetres) : 0;
                return solids + LeafVeil.EchoLossDecibels(Leaves, offsetMetres, sensor, glintMetres);
            }
        }

        return 0;
    }

    /// <summary>Returns which obstacle stands in the way of an echo, or null when none does: the one that most ways through the first Fresnel
    /// zone meet first, else the foliage through which the way is longest.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="glintMetres">The point that answers. [m]</param>
    /// <param name="offsetMetres">How far all obstacles are displaced. [m]</param>
    public Obstacle? InTheWay(SensorAtPose sensor, Vec3 glintMetres, Vec3 offsetMetres)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        Vec3 from = sensor.MidpointMetres - offsetMetres, to = glintMetres - offsetMetres;
        Vec3 leg = to - from;
        Vec3 left = Vec3.UnitZ.Cross(leg), up = leg.Cross(left);
        double radius = Math.Sqrt(Math.PI / sensor.Prepared.WavenumberRadiansPerMetre * leg.Length / 2);
        var met = new int[_set.Obstacles.Length];
        Count(Vec3.Zero, 2);
        foreach (Vec3 side in (ReadOnlySpan<Vec3>)[left, -left, up, -up])
        {
            if (side.LengthSquared > 0)
            {
                Count(radius * side.Normalized(), 1);
            }
        }

        int most = Array.IndexOf(met, met.Max());
        if (met[most] > 0)
        {
            return _set.Obstacles[most];
        }

        (int leafy, double length) = (-1, 0);
        for (int i = 0; i < Leaves.Length; i++)
        {
            double within = Leaves[i].LengthWithinMetres(from, to);
            (leafy, length) = within > length ? (_leafy[i], within) : (leafy, length);
        }

        return leafy < 0 ? null : _set.Obstacles[leafy];

        // By way of a point beside the middle; the answering point's own surface is not looked at.
        void Count(Vec3 aside, int weight)
        {
            Vec3 middle = from + (0.5 * leg) + aside;
            RayHit? hit = Scene.ClosestHit(from, (middle - from).Normalized(), 0, middle.DistanceTo(from))
                ?? Scene.ClosestHit(middle, (to - middle).Normalized(), 0, Math.Max(0, middle.DistanceTo(to) - 0.02));
            if (hit is { } found)
            {
                met[found.ObjectId] += weight;
            }
        }
    }

    /// <summary>Whether any of the screen reaches into the box round a sensor and everything it may look at; if not, nothing is taken.</summary>
    /// <param name="sensorMetres">Middle of the sensor. [m]</param>
    /// <param name="target">Where the answering points lie.</param>
    /// <param name="offsetMetres">How far all obstacles are displaced. [m]</param>
    internal bool MayHide(Vec3 sensorMetres, BoundingBox target, Vec3 offsetMetres)
    {
        Vec3 from = sensorMetres - offsetMetres;
        foreach (BoundingBox box in _boxes)
        {
            if (Reaches(from.X, target.LowMetres.X, target.HighMetres.X, box.LowMetres.X, box.HighMetres.X)
                && Reaches(from.Y, target.LowMetres.Y, target.HighMetres.Y, box.LowMetres.Y, box.HighMetres.Y)
                && Reaches(from.Z, target.LowMetres.Z, target.HighMetres.Z, box.LowMetres.Z, box.HighMetres.Z))
            {
                return true;
            }
        }

        return false;
    }

    private static bool Reaches(double from, double targetLow, double targetHigh, double low, double high) =>
        Math.Min(from, targetLow) - ZoneMetres <= high && Math.Max(from, targetHigh) + ZoneMetres >= low;

    private static bool Overlaps(double a, double b, double low, double high) =>
        Math.Min(a, b) - ZoneMetres <= high && Math.Max(a, b) + ZoneMetres >= low;
}
