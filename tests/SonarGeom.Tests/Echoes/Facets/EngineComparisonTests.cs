using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;
using Xunit.Abstractions;

namespace SonarGeom.Tests.Echoes.Facets;

public class EngineComparisonTests(ITestOutputHelper output)
{
    private const int Cases = 500;

    private static readonly Transducer Pair = new(
        "pair", "two cans side by side", Frequency.FromKilohertz(40), new CircularPiston(0.0065), new CircularPiston(0.0065),
        new Vec3(0, 0.0125, 0), new Vec3(0, -0.0125, 0), 105, ThresholdProfile.Constant(60), 20, 8, 20, 20, 0.5e-3, 30e-3,
        new TransducerEvidence("a wall at 4 m", "assumed", 3, "made up for this test"));

    private static readonly PreparedTransducer Prepared = new(Pair, EchoMedium.Standard);

    private static double Next(Random random, double low, double high) => low + ((high - low) * random.NextDouble());

    private static Vec3 Direction(Random random)
    {
        double z = Next(random, -1, 1);
        double azimuth = Next(random, -Math.PI, Math.PI);
        double across = Math.Sqrt(1 - (z * z));
        return new Vec3(across * Math.Cos(azimuth), across * Math.Sin(azimuth), z);
    }

    /// <summary>A case: the sensor stands at random, the part near its boresight at a random range and attitude.</summary>
    private static (SensorAtPose Sensor, TargetPart Part) Case(int seed)
    {
        var random = new Random(seed);
        double range = Next(random, 0.4, 2.5);
        Rotation attitude = Rotation.FromAzimuthTiltRoll(
            Angle.FromDegrees(Next(random, -180, 180)), Angle.FromDegrees(Next(random, -50, 30)), Angle.FromDegrees(Next(random, -30, 30)));
        var eye = new Vec3(0, 0, 1.0 + (0.5 * random.NextDouble()));
        var sensor = new SensorAtPose(Prepared, new RigidTransform(attitude, eye));
        Vec3 aim = Rotation.FromAzimuthTiltRoll(Angle.FromDegrees(Next(random, -20, 20)), Angle.FromDegrees(Next(random, -20, 20)), Angle.Zero).AxisX;
        Vec3 middle = eye + (range * attitude.Apply(aim));
        Vec3 back = (eye - middle).Normalized();

        // Half of the flats and rods face the sensor to within a few degrees, the rest stand anyhow.
        bool faces = random.NextDouble() < 0.5;
        Vec3 normal = faces ? (back + (0.12 * Direction(random))).Normalized() : Direction(random);
        if (normal.Dot(back) < 0)
        {
            normal = -normal;
        }

        Vec3 across = normal.Cross(Direction(random)).Normalized();
        Vec3 up = normal.Cross(across);
        double length = Next(random, 0.05, 0.8);
        Vec3 shift = (Next(random, -0.5, 0.5) * length * across) + (Next(random, -0.2, 0.2) * length * up);
        TargetPart part = (seed % 7) switch
        {
            0 => PolygonPart.Rectangle("rectangle", middle + shift, 0.5 * length * across, Next(random, 0.03, 0.3) * up),
            1 => new DiscPart("disc", middle + (0.3 * shift), normal, Next(random, 0.02, 0.25)),
            2 => new CylinderPart("rod", middle + shift - (0.5 * length * across), middle + shift + (0.5 * length * across), Next(random, 0.012, 0.1)),
            3 => new SpherePart("sphere", middle, Next(random, 0.02, 0.15)),
            4 => Kerb(random, eye),
            5 => Foot(random, eye),
            _ => PolygonPart.Rectangle("board", middle + (0.2 * shift), 0.3 * length * across, 0.3 * length * up),
        };
        if (part is CornerPart or PoleFootPart)
        {
            Rotation towards = Facing(part.Middle - eye, random);
            sensor = new SensorAtPose(Prepared, new RigidTransform(towards, eye));
        }

        return (sensor, part);
    }

    private static Rotation Facing(Vec3 direction, Random random) => Rotation.FromAzimuthTiltRoll(
        Angle.FromRadians(Math.Atan2(direction.Y, direction.X) + Next(random, -0.2, 0.2)),
        Angle.FromRadians(Math.Atan2(direction.Z, Math.Sqrt((direction.X * direction.X) + (direction.Y * direction.Y))) + Next(random, -0.2, 0.2)),
        Angle.Zero);

    private static CornerPart Kerb(Random random, Vec3 eye)
    {
        double azimuth = Next(random, -Math.PI, Math.PI);
        var ahead = new Vec3(Math.Cos(azimuth), Math.Sin(azimuth), 0);
        var left = new Vec3(-ahead.Y, ahead.X, 0);
        Vec3 foot = (Next(random, 0.5, 2.0) * ahead) + (Next(random, -0.1, 0.1) * left) + (0 * eye);
        double half = Next(random, 0.3, 1.0);
        return new CornerPart("kerb", foot + (half * left), foot - (half * left), -ahead, Vec3.UnitZ, Next(random, 0.04, 0.2));
    }

    private static PoleFootPart Foot(Random random, Vec3 eye)
    {
        double azimuth = Next(random, -Math.PI, Math.PI);
        return new PoleFootPart(
            "pole foot", (Next(random, 0.5, 2.0) * new Vec3(Math.Cos(azimuth), Math.Sin(azimuth), 0)) + (0 * eye), Vec3.UnitZ, Next(random, 0.8, 2.0), Next(random, 0.02, 0.1));
    }

    // Every case of the sweep in which the two disagree, by its seed; any other is a failure. All of them are the closed forms'
    // approximations, the surface integral having converged there to 1e-3 of the echo:
    // flats take the beam at the foot of the perpendicular and at the edges, and lose up to 5 % (0.5 dB in the band mean) when the
    // foot is just outside the flat and the beam steep; the foot of a pole is taken as a paraxial strip, which moves single
    // frequencies by up to 8 % and the band mean by up to 0.31 dB.
    private static readonly int[] SteepBeamNearAnEdge = [141, 378, 392, 399];

    private static readonly int[] ParaxialPoleFoot = [5, 47, 68, 110, 215, 236, 243, 313, 334, 355, 362, 460, 481];

    [Fact]
    public void TheEnginesAgreeOverASweepOfPosesAndShapes()
    {
        int outside = 0;
        int weak = 0;
        var exceptions = new List<int>();
        for (int seed = 0; seed < Cases; seed++)
        {
            (SensorAtPose sensor, TargetPart part) = Case(seed);
            EngineDifference difference = EngineComparison.Compare(sensor, part)!;
            outside += difference.Limit is null ? 0 : 1;
            weak += difference.IsBandJudged ? 0 : 1;
            if (difference.IsAccepted)
            {
                continue;
            }

            exceptions.Add(seed);
            output.WriteLine(
                $"seed {seed}: {difference.PartName} at {difference.RangeMetres:F2} m, closed form {difference.ClosedFormDecibels:F2} dB, surface integral "
                + $"{difference.SurfaceIntegralDecibels:F2} dB, {difference.LargestShareOfAllowance:F2} of the allowance at one frequency");
            Assert.True(Math.Abs(difference.BandDifferenceDecibels) < 0.5 && difference.LargestShareOfAllowance < 2.5, $"seed {seed}: {difference}");
        }

        output.WriteLine($"{exceptions.Count} exceptions in {Cases}; {outside} outside the limits; {weak} too weak for decibels");
        Assert.Empty(exceptions.Except(SteepBeamNearAnEdge).Except(ParaxialPoleFoot));

        // The sweep tests something: most cases lie inside the limits and are strong enough to compare levels.
        Assert.True(outside < Cases / 10, $"{outside} outside the limits");
        Assert.True(weak < Cases / 2, $"{weak} too weak");
    }

    [Fact]
    public void LinesAndEndlessPlanesHaveNoSurface()
    {
        var sensor = new SensorAtPose(Prepared, new RigidTransform(Rotation.Identity, new Vec3(0, 0, 1)));
        Assert.Null(EngineComparison.Compare(sensor, new PlanePart("ground", Vec3.Zero, Vec3.UnitZ)));
        Assert.Null(EngineComparison.Compare(sensor, new EdgePart("lip", new Vec3(1, -1, 0), new Vec3(1, 1, 0), -Vec3.UnitX, Vec3.UnitZ, EdgePart.Square)));
    }

    [Fact]
    public void AnOutlineThatIsNotConvexIsCutIntoItsOwnArea()
    {
        // A letter L of 3 squares.
        TriangleMesh mesh = ShapeMeshes.Polygon(
            [new Vec3(0, 0, 0), new Vec3(2, 0, 0), new Vec3(2, 1, 0), new Vec3(1, 1, 0), new Vec3(1, 2, 0), new Vec3(0, 2, 0)], Vec3.UnitZ);
        Assert.Equal(4, mesh.Facets.Length);
        Assert.Equal(3.0, FacetFace.All(mesh).Sum(face => face.AreaSquareMetres), 1e-12);
        Assert.All(FacetFace.All(mesh), face => Assert.Equal(Vec3.UnitZ, face.UnitNormal));
    }
}
