using System.Runtime.Intrinsics;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes;

/// <summary>What a turn on the spot can do to an echo is bounded, whatever the part, its place and the beam.</summary>
public sealed class PoseTurnTests
{
    private const int Seed = 20_261;

    private static readonly PreparedTransducer[] Beams =
    [
        new(EchoBench.Part(new CircularPiston(0.0051), 0.030, 108), EchoBench.Medium),
        new(EchoBench.Part(new CircularPiston(0.01167), 0, 106), EchoBench.Medium),
        new(EchoBench.Part(new CircularPiston(0.0245), 0.04, 106), EchoBench.Medium),
        new(EchoBench.Part(new GaussianBeam(Angle.FromDegrees(20), -6), 0.02, 106), EchoBench.Medium),
        new(EchoBench.Part(new CircularPiston(0.008), 0.026, 106, receive: new CosinePowerBeam(3)), EchoBench.Medium),
    ];

    // The larger the turn, the fewer bounds are finite or close; those that never are would prove nothing.
    [Theory]
    [InlineData(0, 3.0, 13_000, 9_000)]
    [InlineData(4, 10.0, 6_000, 2_000)]
    [InlineData(5, 42.0, 2_000, 200)]
    public void EveryChangeLiesBetweenItsBounds(int stream, double mostDegrees, int leastBounded, int leastClose)
    {
        var random = new Random(Seed + stream);
        var gross = new GrossSum();
        int bounded = 0, close = 0;
        for (int i = 0; i < 20_000; i++)
        {
            (SensorAtPose before, TargetPart part, Vec3 place) = Question(random);
            SensorAtPose now = Turned(before, random, mostDegrees);
            gross.Clear();
            BandEcho echo = PartEchoes.EvaluateBand(before, part, place, out _, gross);
            BandEcho after = PartEchoes.EvaluateBand(now, part, place);
            if (echo.LevelDecibels <= PartEcho.SilentDecibels || after.LevelDecibels <= PartEcho.SilentDecibels)
            {
                continue;
            }

            (double least, double most) = PoseTurn.Between(before, now).LevelChange(gross.Reach);
            double change = after.LevelDecibels - echo.LevelDecibels;
            Assert.True(change >= least && change <= most, $"{i} (seed {Seed + stream}): {part.Name} changed by {change:0.000} dB, bounds {least:0.000} and {most:0.000}");
            bounded += double.IsFinite(least) ? 1 : 0;
            close += most - least < 3 ? 1 : 0;
        }

        Assert.True(bounded > leastBounded, $"{bounded} lower bounds");
        Assert.True(close > leastClose, $"{close} close bounds");
    }

    [Fact]
    public void ASafeTurnLeavesTheMarginOnItsSide()
    {
        var random = new Random(Seed + 1);
        var gross = new GrossSum();
        int asked = 0, far = 0;
        while (asked < 5_000)
        {
            (SensorAtPose before, TargetPart part, Vec3 place) = Question(random);
            gross.Clear();
            BandEcho echo = PartEchoes.EvaluateBand(before, part, place, out _, gross);
            double margin = 12 * ((2 * random.NextDouble()) - 1);
            (double still, double any) = PoseTurn.SafeRadians(margin, gross.Reach, before.Prepared);
            bool isStill = random.Next(2) == 0;
            double safe = isStill ? still : any;
            if (echo.LevelDecibels <= -200 || safe < 1e-5)
            {
                continue;
            }

            asked++;
            far += safe > 0.1 ? 1 : 0;
            SensorAtPose now = Turned(before, random, 0.999 * safe * (180 / Math.PI), isStill);
            double after = margin + PartEchoes.EvaluateBand(now, part, place).LevelDecibels - echo.LevelDecibels;
            Assert.True(after >= 0 == margin >= 0, $"seed {Seed + 1}: {part.Name} from {margin:0.000} to {after:0.000} dB within a turn of {safe:0.0000} rad");
        }

        Assert.True(far > 300, $"{far} far turns");
    }

    // Beams that have not faded at 90° end there in a step, and parts lie across it.
    [Fact]
    public void TurnsAcrossTheEndOfABeamAreBoundedToo()
    {
        var random = new Random(Seed + 6);
        var gross = new GrossSum();
        int bounded = 0, stepped = 0;
        for (int i = 0; i < 20_000; i++)
        {
            PreparedTransducer beam = Beams[random.Next(Beams.Length)];
            (SensorAtPose asked, TargetPart part, Vec3 place) = Question(random);
            Vec3 towards = (place - asked.MidpointMetres).Normalized();
            double tilt = (Math.Asin(towards.Z) * 180 / Math.PI) + (random.Next(2) == 0 ? 90 : -90) + (8 * (random.NextDouble() - 0.5));
            var aside = Angle.FromRadians(Math.Atan2(towards.Y, towards.X));
            var before = new SensorAtPose(beam, new RigidTransform(Rotation.FromAzimuthTiltRoll(aside, Angle.FromDegrees(tilt), Angle.Zero), asked.WorldFromSensor.Translation));
            SensorAtPose now = Turned(before, random, random.Next(2) == 0 ? 0.02 : 2, isStill: true);
            gross.Clear();
            BandEcho echo = PartEchoes.EvaluateBand(before, part, place, out _, gross);
            BandEcho after = PartEchoes.EvaluateBand(now, part, place);
            if (echo.LevelDecibels <= PartEcho.SilentDecibels || after.LevelDecibels <= PartEcho.SilentDecibels)
            {
                continue;
            }

            (double least, double most) = PoseTurn.Between(before, now).LevelChange(gross.Reach);
            double change = after.LevelDecibels - echo.LevelDecibels;
            Assert.True(change >= least && change <= most, $"{i} (seed {Seed + 6}): {part.Name} changed by {change:0.00000} dB, bounds {least:0.00000} and {most:0.00000}");
            bounded += double.IsFinite(least) ? 1 : 0;
            stepped += Math.Abs(change) > 0.1 ? 1 : 0;
        }

        Assert.True(bounded > 2_000 && stepped > 2_000, $"{bounded} bounds, {stepped} changes");
    }

    // Between two of their ways closed forms step. While a pair turns by 1.2° the second differences of the echo show how far. The beam is
    // one that fades before it looks back: others end there with a step of their own.
    [Fact]
    public void ClosedFormsStepByLessThanIsAllowed()
    {
        var random = new Random(Seed + 3);
        var gross = new GrossSum();
        double largest = 0;
        for (int i = 0; i < 2_000; i++)
        {
            (SensorAtPose sensor, TargetPart part, Vec3 place) = Question(random);
            LaneBlock band = Beams[3].Band;
            LaneComplex before = default, here = default;
            for (int step = 0; step <= 24; step++)
            {
                Rotation turn = Rotation.FromAzimuthTiltRoll(Angle.FromDegrees(0.05 * step), Angle.Zero, Angle.Zero);
                var turned = new SensorAtPose(Beams[3], sensor.WorldFromSensor * new RigidTransform(turn, Vec3.Zero));
                LaneComplex after = PartEchoes.Pressure(new EchoView(turned, place, band, gross), part, out EchoPath path);
                gross.Complete(after, band.PowerWeights, 100);
                if (path.IsSilent || !gross.Reach.CanMove)
                {
                    break;
                }

                if (step > 1)
                {
                    LaneComplex second = after - here - (here - before);
                    largest = Math.Max(largest, Math.Sqrt(Vector512.Sum(second.Power * band.PowerWeights)) / gross.Total.Loud[0] / FaceMove.FormAllowance(path.Range));
                }

                (before, here) = (here, after);
            }
        }

        Assert.InRange(largest, 1e-3, 1);
    }

    [Fact]
    public void CollectingBoundsLeavesTheEchoAsItIs()
    {
        var random = new Random(Seed + 2);
        var gross = new GrossSum();
        for (int i = 0; i < 2_000; i++)
        {
            (SensorAtPose sensor, TargetPart part, Vec3 place) = Question(random);
            gross.Clear();
            Assert.Equal(PartEchoes.EvaluateBand(sensor, part, place), PartEchoes.EvaluateBand(sensor, part, place, out _, gross));
        }
    }

    [Fact]
    public void BeamFactsCoverWhatLiesBetweenTheirSteps()
    {
        foreach (PreparedTransducer beam in Beams)
        {
            DirectivityTable table = beam.Band.Transmit;
            var bends = new BeamBends(table);
            for (double angle = 0.0007; angle < 1.5; angle += 0.00317)
            {
                const double H = 2e-4;
                for (int lane = 0; lane < LaneBlock.Lanes; lane++)
                {
                    (double a, double b, double c) = (At(angle - H), At(angle), At(angle + H));
                    Assert.Equal((At(angle + 1e-6) - At(angle - 1e-6)) / 2e-6, -Math.Sin(angle) * table.SlopeAtCosine(Math.Cos(angle))[lane], 1e-3);

                    // What is told of a direction covers all others within the turn.
                    for (int turn = 0; turn < BeamBends.Turns; turn++)
                    {
                        for (int side = -1; side <= 1; side++)
                        {
                            BeamFacts facts = bends.At(BeamBends.Angle(Math.Cos(angle + (0.999 * side * BeamBends.TurnsRadians[turn]))));
                            Assert.True(Math.Abs(b) <= facts.Near[turn], $"amplitude {b} at {angle}");
                            Assert.True(Math.Abs(c - a) / (2 * H) <= facts.Steepest[turn] + 1e-6, $"slope at {angle}");
                            Assert.True(Math.Abs(a + c - (2 * b)) / (H * H) <= facts.Bend[turn] + 1e-3, $"bend at {angle}");
                            Assert.True(Math.Abs((c - a) / (2 * H * Math.Tan(angle))) <= facts.Bend[turn] + 1e-3, $"bend round boresight at {angle}");
                        }
                    }

                    double At(double t) => table.AtCosine(Math.Cos(t))[lane];
                }
            }
        }
    }

    [Fact]
    public void OnlyTurnsOnTheSpotCount()
    {
        SensorAtPose here = EchoBench.At(Beams[0], Vec3.Zero);
        Assert.True(PoseTurn.IsTurn(here, EchoBench.At(Beams[0], Vec3.Zero, tiltDegrees: 20)));
        Assert.Equal(0, PoseTurn.Between(here, EchoBench.At(Beams[0], Vec3.Zero, tiltDegrees: 20)).MoveMetres);
        Assert.Equal(0.015 * Math.PI / 180, PoseTurn.Between(here, EchoBench.At(Beams[0], Vec3.Zero, azimuthDegrees: 1)).MoveMetres, 1e-7);
        Assert.False(PoseTurn.IsTurn(here, EchoBench.At(Beams[0], new Vec3(1e-6, 0, 0))));
        Assert.False(PoseTurn.IsTurn(here, EchoBench.At(Beams[1], Vec3.Zero)));
        Assert.Throws<ArgumentException>(() => PoseTurn.Between(here, EchoBench.At(Beams[1], Vec3.Zero)));
    }

    private static (SensorAtPose Sensor, TargetPart Part, Vec3 Place) Question(Random random)
    {
        PreparedTransducer beam = Beams[random.Next(Beams.Length)];
        SensorAtPose sensor = EchoBench.At(beam, new Vec3(0, 0, 1), 0, 60 * (random.NextDouble() - 0.5));
        double range = 0.3 + (3 * random.NextDouble());
        double azimuth = 1.6 * (random.NextDouble() - 0.5), height = 1.2 * (random.NextDouble() - 0.5);
        var place = new Vec3(range * Math.Cos(azimuth), range * Math.Sin(azimuth), 1 + (range * height));
        Vec3 axis = random.Next(3) == 0 ? Vec3.UnitY : random.Next(2) == 0 ? Vec3.UnitZ : Any(random).Normalized();
        double size = 0.05 + (0.2 * random.NextDouble());
        TargetPart part = random.Next(3) switch
        {
            0 => new SpherePart("sphere", Vec3.Zero, 0.3 * size, 2),
            1 => new CylinderPart("rod", -size * axis, size * axis, 0.1 * size, 0),
            _ => Board(random, size),
        };
        return (sensor, part, place);
    }

    private static PolygonPart Board(Random random, double size)
    {
        Rotation attitude = Rotation.FromAzimuthTiltRoll(
            Angle.FromDegrees(random.Next(2) == 0 ? 0 : 120 * (random.NextDouble() - 0.5)), Angle.FromDegrees(random.Next(2) == 0 ? 0 : 60 * (random.NextDouble() - 0.5)), Angle.Zero);
        return PolygonPart.Rectangle("board", Vec3.Zero, attitude.Apply(new Vec3(0, -size, 0)), attitude.Apply(new Vec3(0, 0, size)), isTwoSided: true, 1);
    }

    private static Vec3 Any(Random random) => new(random.NextDouble() - 0.5, random.NextDouble() - 0.5, random.NextDouble() - 0.5);

    // About the line between the faces, the upright or the boresight.
    private static SensorAtPose Turned(SensorAtPose sensor, Random random, double mostDegrees, bool isStill = false)
    {
        var angle = Angle.FromDegrees(mostDegrees * ((2 * random.NextDouble()) - 1));
        Rotation turn = (isStill ? 0 : random.Next(4)) switch
        {
            0 or 1 => Rotation.FromAzimuthTiltRoll(Angle.Zero, angle, Angle.Zero),
            2 => Rotation.FromAzimuthTiltRoll(angle, Angle.Zero, Angle.Zero),
            _ => Rotation.FromAzimuthTiltRoll(Angle.Zero, Angle.Zero, angle),
        };
        return new SensorAtPose(sensor.Prepared, sensor.WorldFromSensor * new RigidTransform(turn, Vec3.Zero));
    }
}
