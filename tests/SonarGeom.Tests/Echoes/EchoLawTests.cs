using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes;

/// <summary>Laws that hold for every part of every obstacle: mirror images, reciprocity, moved worlds, thresholds.</summary>
public class EchoLawTests
{
    private const int Cases = 150;

    // Beams of different width, so that swapping them is not nothing.
    private static readonly Directivity Out = new CircularPiston(0.0065);
    private static readonly Directivity Back = new CircularPiston(0.0045);
    private static readonly Transducer Pair = EchoBench.Part(Out, 0.026, 110, 40, receive: Back);
    private static readonly PreparedTransducer Prepared = new(Pair, EchoBench.Medium);

    [Fact]
    public void Mirrored_worlds_give_mirrored_echoes()
    {
        // The mirror image of the pair has its transmitter on the right.
        PreparedTransducer mirrored = new(
            Pair with { TransmitterOffsetMetres = Pair.ReceiverOffsetMetres, ReceiverOffsetMetres = Pair.TransmitterOffsetMetres }, EchoBench.Medium);
        ForEach((seed, random, obstacle) =>
        {
            var position = new Vec3(0.1, 0.2, 0.4 + random.NextDouble());
            double azimuth = 60 * (random.NextDouble() - 0.5);
            double tilt = 60 * (random.NextDouble() - 0.5);
            Obstacle image = obstacle with { PositionMetres = obstacle.PositionMetres.MirroredLeftRight(), Yaw = -obstacle.Yaw, Roll = -obstacle.Roll };
            List<PartEcho> straight = Echoes(EchoBench.At(Prepared, position, azimuth, tilt), obstacle);
            List<PartEcho> other = Echoes(EchoBench.At(mirrored, position.MirroredLeftRight(), -azimuth, tilt), image);

            // Left and right sides change names, so echoes are matched by their glints, levels and ranges.
            List<PartEcho> matched = [];
            foreach (PartEcho echo in straight)
            {
                PartEcho twin = other.MinBy(e =>
                    e.GlintMetres.DistanceTo(echo.GlintMetres.MirroredLeftRight()) + Math.Abs(e.BandLevelDecibels - echo.BandLevelDecibels));
                other.Remove(twin);
                matched.Add(twin);
            }

            Same(straight, matched, $"seed {seed}, {obstacle.Kind}", 1e-9, glint => glint.MirroredLeftRight());
        });
    }

    [Fact]
    public void Swapping_transmitter_and_receiver_changes_nothing()
    {
        PreparedTransducer swapped = new(
            Pair with
            {
                Transmit = Back,
                Receive = Out,
                TransmitterOffsetMetres = Pair.ReceiverOffsetMetres,
                ReceiverOffsetMetres = Pair.TransmitterOffsetMetres,
            },
            EchoBench.Medium);
        ForEach((seed, random, obstacle) =>
        {
            var position = new Vec3(0.1, 0.2, 0.4 + random.NextDouble());
            double azimuth = 60 * (random.NextDouble() - 0.5);
            List<PartEcho> there = Echoes(EchoBench.At(Prepared, position, azimuth, -10), obstacle);
            List<PartEcho> back = Echoes(EchoBench.At(swapped, position, azimuth, -10), obstacle);
            Same(there, back, $"seed {seed}, {obstacle.Kind}", 1e-9, glint => glint);
        });
    }

    // Turning a board moves its corners by a rounding of 1e-16 and its echo near a null by more: 1e-6 dB is asked of echoes within
    // 60 dB of the loudest.
    [Fact]
    public void Moving_the_whole_world_and_turning_it_about_the_vertical_changes_nothing()
    {
        ForEach((seed, random, obstacle) =>
        {
            var position = new Vec3(0.1, 0.2, 0.4 + random.NextDouble());
            double azimuth = 60 * (random.NextDouble() - 0.5);
            double turn = 360 * random.NextDouble();
            var motion = new RigidTransform(Rotation.AboutZ(Angle.FromDegrees(turn)), new Vec3(3 * random.NextDouble(), -2 * random.NextDouble(), 0));
            List<PartEcho> here = Echoes(EchoBench.At(Prepared, position, azimuth, -10), obstacle);
            Obstacle moved = obstacle with { PositionMetres = motion.ApplyToPoint(obstacle.PositionMetres), Yaw = obstacle.Yaw + Angle.FromDegrees(turn) };
            SensorAtPose sensor = EchoBench.At(Prepared, motion.ApplyToPoint(position), azimuth + turn, -10);
            Same(here, Echoes(sensor, moved), $"seed {seed}, {obstacle.Kind}", 1e-6, motion.ApplyToPoint);

            // And part by part, by their own motion.
            ImmutableArray<TargetPart> parts = obstacle.Parts(Ground.SmoothTile);
            List<PartEcho> each = [.. parts.Select(p => PartEchoes.Evaluate(sensor, p.Moved(motion)))];
            Same(here, each, $"seed {seed}, {obstacle.Kind}, moved parts", 1e-6, motion.ApplyToPoint);
        });
    }

    [Fact]
    public void Displacing_a_part_is_moving_it()
    {
        ForEach((seed, random, obstacle) =>
        {
            var offset = new Vec3(random.NextDouble(), random.NextDouble() - 0.5, 0);
            SensorAtPose sensor = EchoBench.At(Prepared, new Vec3(0, 0, 1.1), 5, -10);
            foreach (TargetPart part in obstacle.Parts(Ground.SmoothTile))
            {
                PartEcho displaced = PartEchoes.Evaluate(sensor, part, offset);
                PartEcho moved = PartEchoes.Evaluate(sensor, part.Moved(new RigidTransform(Rotation.Identity, offset)));
                Same([displaced], [moved], $"seed {seed}, {part.Name}", 1e-6, g => g);
                Assert.Equal(displaced.BandLevelDecibels, Math.Max(PartEchoes.EvaluateBand(sensor, part, offset).LevelDecibels, PartEcho.SilentDecibels), 1e-12);
            }
        });
    }

    [Fact]
    public void A_lower_threshold_never_loses_a_detection()
    {
        ForEach((seed, random, obstacle) =>
        {
            SensorAtPose sensor = EchoBench.At(Prepared, new Vec3(0, 0, 0.4 + random.NextDouble()), 40 * (random.NextDouble() - 0.5), -10);
            ImmutableArray<TargetPart> parts = obstacle.Parts(Ground.Asphalt);
            bool was = false;
            for (double threshold = 80; threshold >= 0; threshold -= 5)
            {
                PreparedTransducer lowered = new(Pair with { Threshold = ThresholdProfile.Constant(threshold) }, EchoBench.Medium);
                var at = new SensorAtPose(lowered, sensor.WorldFromSensor);
                bool isDetected = EchoExplainer.Explain(at, parts).IsDetected;
                Assert.True(isDetected || !was, $"seed {seed}, {obstacle.Kind}: lost at {threshold} dB");
                Assert.Equal(isDetected, ObstacleEcho.BandMarginDecibels(at, parts.AsSpan(), default) >= 0);
                was = isDetected;
            }
        }, 25);
    }

    [Fact]
    public void Echoes_are_the_same_on_every_run_and_thread()
    {
        Obstacle[] obstacles = [.. Enumerable.Range(0, 64).Select(seed => RandomObstacles.Any(new Random(seed)))];
        SensorAtPose sensor = EchoBench.At(Prepared, new Vec3(0, 0, 1.1), 5, -10);
        double[] alone = [.. obstacles.Select(Sum)];
        double[] together = new double[obstacles.Length];
        Parallel.For(0, obstacles.Length, i => together[i] = Sum(obstacles[i]));
        Assert.Equal(alone, together);

        double Sum(Obstacle o) => o.Parts(Ground.Asphalt).Sum(p => PartEchoes.Evaluate(sensor, p).BandLevelDecibels);
    }

    [Fact]
    public void No_echo_allocates()
    {
        SensorAtPose sensor = EchoBench.At(Prepared, new Vec3(0, 0, 1.1), 5, -10);
        TargetPart[] parts = [.. RandomObstacles.Kinds.SelectMany(k => RandomObstacles.Of(k, new Random(3)).Parts(Ground.SmoothTile))];
        double sum = 0;
        long before = 0;
        for (int round = 0; round < 3; round++)
        {
            // The first round fills the table of resonances.
            before = GC.GetAllocatedBytesForCurrentThread();
            foreach (TargetPart part in parts)
            {
                sum += PartEchoes.EvaluateBand(sensor, part, new Vec3(0.1, 0, 0)).LevelDecibels;
            }
        }

        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
        Assert.True(double.IsFinite(sum));
    }

    private static List<PartEcho> Echoes(SensorAtPose sensor, Obstacle obstacle) =>
        [.. obstacle.Parts(Ground.SmoothTile).Select(part => PartEchoes.Evaluate(sensor, part))];

    private static void Same(List<PartEcho> first, List<PartEcho> second, string where, double tolerance, Func<Vec3, Vec3> image)
    {
        Assert.Equal(first.Count, second.Count);
        double loudest = first.Max(e => e.BandLevelDecibels);
        for (int i = 0; i < first.Count; i++)
        {
            // A difference of x dB on an echo y dB below the loudest is x·10^(−y/20) of it.
            double share = Math.Pow(10, Math.Min(0, first[i].BandLevelDecibels - loudest + 60) / 20);
            Assert.True(
                Math.Abs(first[i].BandLevelDecibels - second[i].BandLevelDecibels) * share < tolerance
                && Math.Abs(first[i].CentreLevelDecibels - second[i].CentreLevelDecibels) * share < 100 * tolerance,
                $"{where}, part {i}: {first[i]} against {second[i]}");
            if (!first[i].IsSilent)
            {
                Assert.True(Math.Abs(first[i].RangeMetres - second[i].RangeMetres) < 1e-7, $"{where}, part {i}: ranges");
                Assert.True(image(first[i].GlintMetres).DistanceTo(second[i].GlintMetres) < 1e-6, $"{where}, part {i}: glints {first[i].GlintMetres}, {second[i].GlintMetres}");
            }
        }
    }

    private static void ForEach(Action<int, Random, Obstacle> check, int cases = Cases)
    {
        for (int seed = 0; seed < cases; seed++)
        {
            var random = new Random(seed);
            check(seed, random, RandomObstacles.Any(random));
        }
    }
}
