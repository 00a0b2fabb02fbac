using System.Runtime.Intrinsics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>A sensor as foliage sees it. Rays start half way between transmitter and receiver.</summary>
internal readonly struct LeafView
{
    private const double WidestRadians = 78 * Math.PI / 180;

    private readonly Vec3 _fromLocal;
    private readonly Rotation _localFromRays;
    private readonly Rotation _worldFromRays;
    private readonly Rotation _sensorFromRays;
    private readonly Vec3 _half;
    private readonly Vec3 _midpoint;

    internal LeafView(SensorAtPose sensor, FoliagePart part, Vec3 offset, LaneBlock block)
    {
        _midpoint = sensor.MidpointMetres - offset;
        Rotation axes = sensor.WorldFromSensor.Rotation;
        _worldFromRays = block.IsEven ? Facing(part.Middle - _midpoint, axes) : axes;
        _sensorFromRays = axes.Inverse * _worldFromRays;
        Rotation localFromWorld = part.WorldFromFoliage.Rotation.Inverse;
        _localFromRays = localFromWorld * _worldFromRays;
        _fromLocal = localFromWorld.Apply(_midpoint - part.WorldFromFoliage.Translation);
        _half = axes.ApplyInverse(0.5 * (sensor.TransmitterMetres - sensor.ReceiverMetres));
    }

    /// <summary>The angles in which the box round a form is seen, as far as the beams reach.</summary>
    internal bool Aim(FoliagePart part, double reach, out LeafWindow window)
    {
        double widest = Math.Min(reach, WidestRadians), lowA = widest, highA = -widest, lowB = widest, highB = -widest;
        Vec3 h = part.HalfAxesMetres;
        bool isAhead = true, isBehind = true;
        for (int i = 0; i < 8; i++)
        {
            Vec3 corner = _localFromRays.ApplyInverse(new Vec3((i & 1) != 0 ? h.X : -h.X, (i & 2) != 0 ? h.Y : -h.Y, (i & 4) != 0 ? h.Z : -h.Z) - _fromLocal);
            isBehind &= corner.X <= 0;
            isAhead &= corner.X > 1e-6;
            double a = Math.Atan2(corner.Y, corner.X), b = Math.Atan2(corner.Z, corner.X);
            (lowA, highA, lowB, highB) = (Math.Min(lowA, a), Math.Max(highA, a), Math.Min(lowB, b), Math.Max(highB, b));
        }

        if (!isAhead)
        {
            (lowA, highA, lowB, highB) = (-widest, widest, -widest, widest);
        }

        window = new LeafWindow(Math.Max(lowA, -widest), Math.Min(highA, widest), Math.Max(lowB, -widest), Math.Min(highB, widest));
        return !isBehind && window.HighA > window.LowA && window.HighB > window.LowB;
    }

    internal bool Crosses(FoliagePart part, Vec3 direction, out double near, out double far) =>
        part.Crosses(_fromLocal, _localFromRays.Apply(direction), out near, out far);

    /// <summary>Returns the mean strength of a leaf at a point of a ray times both beams and the absorption, all as powers. [m²]</summary>
    internal double Weight(LaneBlock block, LeafScatter leaf, Vec3 direction, double range, out double half)
    {
        Vec3 point = range * _sensorFromRays.Apply(direction), fromT = point - _half, fromR = point + _half;
        double r1 = fromT.Length, r2 = fromR.Length;
        half = 0.5 * (r1 + r2);
        Vector512<double> beams = block.Transmit.AtCosines(fromT.X / r1, fromT.Y / r1, fromT.Z / r1)
            * block.Receive.AtCosines(fromR.X / r2, fromR.Y / r2, fromR.Z / r2)
            * LaneMath.Decay(block.AbsorptionNepersPerMetre, 2 * half);
        return Vector512.Sum(beams * beams * leaf.WeightedMean) * (range * range * half * half / (r1 * r1 * r2 * r2));
    }

    /// <summary>The middle of what answers when the burst is at a range.</summary>
    internal Vec3 Glint(ReadOnlySpan<LeafRay> rays, double range, double within, double decay)
    {
        Vec3 sum = Vec3.Zero, all = Vec3.Zero;
        foreach (ref readonly LeafRay ray in rays)
        {
            double weight = ray.Solid * ray.Weight;
            all += weight * ray.Direction;
            if (ray.Enter <= range + within && ray.Leave >= range - within)
            {
                sum += weight * Math.Exp(-decay * Math.Max(0, range - ray.Enter)) * ray.Direction;
            }
        }

        sum = sum.LengthSquared > 0 ? sum : all;
        return _midpoint + _worldFromRays.Apply(range / sum.Length * sum);
    }

    private static Rotation Facing(Vec3 towards, Rotation otherwise)
    {
        Vec3 x = towards.LengthSquared > 1e-12 ? towards.Normalized() : otherwise.AxisX;
        Vec3 y = Vec3.UnitZ.Cross(x);
        y = y.LengthSquared > 1e-9 ? y.Normalized() : Vec3.UnitY;
        return new Rotation(x, y, x.Cross(y));
    }
}

/// <summary>The angles in which a form is seen.</summary>
internal readonly record struct LeafWindow(double LowA, double HighA, double LowB, double HighB);

/// <summary>One ray through the leaves: where it is inside, and what a leaf at its entry would return, spreading left out.</summary>
internal readonly record struct LeafRay(Vec3 Direction, double Enter, double Leave, double Weight, double Solid);
