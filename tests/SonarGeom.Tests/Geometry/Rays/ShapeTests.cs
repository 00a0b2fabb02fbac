using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Geometry.Rays;

/// <summary>
/// The single-primitive tests against an independent way to the same answer: stepping along the ray by the distance to the
/// surface, which can never step through it.
/// </summary>
public sealed class ShapeTests
{
    [Fact]
    public void CapsuleIsHitWhereSteppingByDistanceEnds() => Check(1, random =>
    {
        (Vec3 a, Vec3 b, double r) = (random.Point(), random.Point(), random.Next(0.1, 1));
        return (ray => new RoundShape(a, b, r, true).Intersect(ray), p => p.DistanceTo(a + (Clamp01((p - a).Dot(b - a) / (b - a).LengthSquared) * (b - a))) - r);
    });

    [Fact]
    public void SphereIsHitWhereSteppingByDistanceEnds() => Check(2, random =>
    {
        (Vec3 a, double r) = (random.Point(), random.Next(0.1, 2));
        return (ray => new RoundShape(a, a, r, true).Intersect(ray), p => p.DistanceTo(a) - r);
    });

    [Fact]
    public void CylinderIsHitWhereSteppingByDistanceEnds() => Check(3, random =>
    {
        (Vec3 a, Vec3 b, double r) = (random.Point(), random.Point(), random.Next(0.1, 1));
        Vec3 axis = (b - a).Normalized();
        double half = 0.5 * a.DistanceTo(b);
        return (ray => new RoundShape(a, b, r, false).Intersect(ray), p =>
        {
            Vec3 q = p - (0.5 * (a + b));
            double along = Math.Abs(q.Dot(axis)) - half;
            double across = (q - (q.Dot(axis) * axis)).Length - r;
            return Math.Min(Math.Max(along, across), 0) + Math.Sqrt(Square(Math.Max(along, 0)) + Square(Math.Max(across, 0)));
        }
        );
    });

    [Fact]
    public void BoxIsHitWhereSteppingByDistanceEnds() => Check(4, random =>
    {
        RigidTransform pose = new(
            Rotation.FromAzimuthTiltRoll(Turn(random), Turn(random), Turn(random)), random.Point());
        Vec3 h = new(random.Next(0.1, 2), random.Next(0.1, 2), random.Next(0.1, 2));
        return (ray => new BoxShape(pose, h).Intersect(ray), p =>
        {
            Vec3 q = pose.Rotation.ApplyInverse(p - pose.Translation);
            Vec3 d = new(Math.Abs(q.X) - h.X, Math.Abs(q.Y) - h.Y, Math.Abs(q.Z) - h.Z);
            return Math.Min(Math.Max(d.X, Math.Max(d.Y, d.Z)), 0)
                + new Vec3(Math.Max(d.X, 0), Math.Max(d.Y, 0), Math.Max(d.Z, 0)).Length;
        }
        );
    });

    [Fact]
    public void TriangleIsHitAtItsBarycentricSolution()
    {
        RandomScene random = new(5);
        int hits = 0;
        for (int i = 0; i < 20000; i++)
        {
            TriangleShape t = new(random.Point(), random.Point(), random.Point());
            Ray ray = new(random.Point(), random.Direction(), 0, double.PositiveInfinity);

            // o + t d = a + u (b - a) + v (c - a), by Cramer's rule.
            Vec3 e1 = t.B - t.A;
            Vec3 e2 = t.C - t.A;
            Vec3 s = ray.Origin - t.A;
            double determinant = e1.Cross(e2).Dot(-ray.UnitDirection);
            double u = s.Cross(e2).Dot(-ray.UnitDirection) / determinant;
            double v = e1.Cross(s).Dot(-ray.UnitDirection) / determinant;
            double distance = e1.Cross(e2).Dot(s) / determinant;
            double margin = Math.Min(Math.Min(u, v), Math.Min(1 - u - v, distance));
            if (Math.Abs(margin) > 1e-9)
            {
                double? found = t.Intersect(ray);
                Assert.True(found.HasValue == margin > 0, $"triangle {i}: margin {margin}, found {found}");
                Assert.True(found is not double f || Math.Abs(f - distance) < 1e-9 * (1 + distance), $"triangle {i}: {distance}, found {found}");
                hits += found.HasValue ? 1 : 0;
            }
        }

        Assert.True(hits > 500, $"{hits} hits");
    }

    [Fact]
    public void RayInThePlaneOfATriangleMissesIt()
    {
        TriangleShape t = new(new(1, -1, 0), new(3, 0, 0), new(1, 1, 0));
        Assert.Null(t.Intersect(new Ray(Vec3.Zero, Vec3.UnitX, 0, 10)));
        Assert.NotNull(t.Intersect(new Ray(new(2, 0, 1), -Vec3.UnitZ, 0, 10)));
    }

    [Fact]
    public void RayAlongTheAxisOfACylinderHitsItsDisc()
    {
        RoundShape c = new(new(1, 0, 0), new(3, 0, 0), 0.5, false);
        Assert.Equal(1.0, c.Intersect(new Ray(Vec3.Zero, Vec3.UnitX, 0, 10))!.Value, 12);
        Assert.Equal(1.0, c.Intersect(new Ray(new(2, 0, 0), Vec3.UnitX, 0, 10))!.Value, 12);
        Assert.Null(c.Intersect(new Ray(new(0, 0.6, 0), Vec3.UnitX, 0, 10)));
    }

    /// <summary>The quick way to a hit gives the same number as the part of the line inside the shape, to the last bit.</summary>
    [Fact]
    public void QuickWayToAHitIsThePartOfTheLineInsideToTheLastBit()
    {
        RandomScene random = new(6, 2);
        int hits = 0;
        for (int i = 0; i < 40000; i++)
        {
            // Every fourth shape and ray lie along the axes, where products and components vanish.
            bool isLevel = i % 4 == 0;
            Vec3 a = random.Point();
            Vec3 b = isLevel ? a + new Vec3(0, 0, random.Next(0.1, 2)) : random.Point();
            Rotation attitude = isLevel ? Rotation.Identity : Rotation.FromAzimuthTiltRoll(Turn(random), Turn(random), Turn(random));
            Vec3 direction = !isLevel ? random.Direction()
                : (i / 4 % 4) switch
                {
                    0 => Vec3.UnitX,
                    1 => -Vec3.UnitZ,
                    2 => new Vec3(random.Next(-1, 1), 1, 0).Normalized(),
                    _ => random.Direction(),
                };
            Vec3 origin = isLevel && i % 8 == 0 ? a + (random.Next(-3, 3) * direction) : random.Point();
            double near = i % 3 == 0 ? 0 : random.Next(0, 2);
            double radius = random.Next(0.05, 1.5);
            BoxShape box = new(new RigidTransform(attitude, a), new Vec3(radius, random.Next(0.05, 1), random.Next(0.05, 1)));
            foreach (RoundShape round in new[] { new(a, b, radius, true), new(a, a, radius, true), new RoundShape(a, b, radius, false) })
            {
                hits += Same(round.ChordOf(origin, direction), round.FirstFrom(near, origin.X, origin.Y, origin.Z, direction.X, direction.Y, direction.Z));
            }

            hits += Same(box.ChordOf(origin, direction), new BoxRecord(box).FirstFrom(near, origin.X, origin.Y, origin.Z, direction.X, direction.Y, direction.Z));

            int Same(Chord chord, double found)
            {
                double expected = chord.FirstFrom(near);
                bool isSame = double.IsNaN(expected) ? double.IsNaN(found) : BitConverter.DoubleToInt64Bits(expected) == BitConverter.DoubleToInt64Bits(found);
                Assert.True(isSame, $"case {i}: {origin} along {direction}: {expected}, found {found}");
                return double.IsNaN(expected) ? 0 : 1;
            }
        }

        Assert.True(hits > 10000, $"{hits} hits");
    }

    [Fact]
    public void RayThatLeavesTheCornerOfTheBoxAroundACapsuleMissesIt()
    {
        RoundShape capsule = new(new(0, 0, 1), new(0, 0, 1.4), 0.15, true);
        Vec3 corner = new(0.145, 0, 0.9);
        Assert.Null(capsule.Intersect(new Ray(corner, new Vec3(1, 0, -0.1).Normalized(), 0, 10)));
        Assert.NotNull(capsule.Intersect(new Ray(corner, new Vec3(-0.1, 0, 1).Normalized(), 0, 10)));
        Assert.NotNull(capsule.Intersect(new Ray(corner, new Vec3(1, 0, -0.1).Normalized(), -10, 10)));
    }

    private static void Check(int seed, Func<RandomScene, (Func<Ray, double?> Intersect, Func<Vec3, double> Distance)> shape)
    {
        RandomScene random = new(seed, 2);
        int hits = 0;
        for (int i = 0; i < 4000; i++)
        {
            (Func<Ray, double?> intersect, Func<Vec3, double> distance) = shape(random);
            Ray ray = new(random.Point(), random.Direction(), 0, 20);
            double? found = intersect(ray);
            double side = Math.Sign(distance(ray.Origin));
            double reached = 0;
            double closest = double.PositiveInfinity;
            for (int step = 0; step < 5000 && reached < 20; step++)
            {
                double room = side * distance(ray.At(reached));
                closest = Math.Min(closest, room);
                if (room < 1e-10)
                {
                    break;
                }

                reached += room;
            }

            bool hit = closest < 1e-10;
            bool unclear = !hit && closest < 1e-5;
            if (!unclear)
            {
                Assert.True(found.HasValue == hit, $"shape {i}: {ray} stepped to {reached}, found {found}");
                Assert.True(!hit || Math.Abs(found!.Value - reached) < 1e-4, $"shape {i}: {ray} stepped to {reached}, found {found}");
                hits += hit ? 1 : 0;
            }
        }

        Assert.True(hits > 400, $"{hits} hits");
    }

    private static Angle Turn(RandomScene random) => Angle.FromDegrees(random.Next(-180, 180));

    private static double Clamp01(double x) => Math.Clamp(x, 0, 1);

    private static double Square(double x) => x * x;
}
