using SonarGeom.Coverage.Kernels;
using SonarGeom.Geometry;

namespace SonarGeom.Tests.Coverage.Kernels;

public class LevelFieldTests
{
    private const int PointsPerPose = 1000;

    /// <summary>A million positions, fast kernel against double precision with the beam as given. Where the pattern is within 60 dB
    /// of its boresight both ways the kernel is allowed 0.001 dB plus what the stated error of the beam makes there.</summary>
    [Theory]
    [InlineData(16)]
    [InlineData(8)]
    [InlineData(1)]
    public void Levels_match_double_precision(int width)
    {
        FieldBeam[] beams = [.. FieldScenes.Beams()];
        int poses = width == 16 ? 1000 : 200;
        for (int seed = 0; seed < poses; seed++)
        {
            var random = new Random(seed);
            FieldBeam transmit = beams[seed % beams.Length];
            FieldBeam receive = beams[seed / beams.Length % beams.Length];
            var echo = new FieldEcho(transmit, receive, 95, 1.3, FieldThreshold.Constant(65));
            FieldPose pose = FieldScenes.Pose(random, seed % 3 == 0 ? 0 : 0.03);
            float[] x = Points(random, 0, 5);
            float[] y = Points(random, -2, 2);
            float[] z = Points(random, 0, 2.2);
            var levels = new float[PointsPerPose];
            LevelField.Evaluate(echo, pose, x, y, z, levels, width);
            for (int i = 0; i < PointsPerPose; i++)
            {
                var at = new Vec3(x[i], y[i], z[i]);
                double expected = LevelField.LevelDecibels(echo, pose, at);
                double allowed = Allowed(echo, pose, at);
                Assert.True(
                    Math.Abs(levels[i] - expected) <= allowed,
                    $"seed {seed}, point {i}: {levels[i]} dB against {expected} dB, allowed {allowed}; {transmit.Description}, {receive.Description}");
            }
        }
    }

    [Fact]
    public void Any_number_of_positions_gives_the_same_levels()
    {
        var random = new Random(7);
        FieldEcho echo = FieldScenes.Pistons();
        FieldPose pose = FieldScenes.Pose(random);
        float[] x = Points(random, 0, 5);
        float[] y = Points(random, -2, 2);
        float[] z = Points(random, 0, 2.2);
        var all = new float[PointsPerPose];
        LevelField.Evaluate(echo, pose, x, y, z, all);
        for (int count = 0; count < 70; count++)
        {
            var some = new float[count];
            LevelField.Evaluate(echo, pose, x.AsSpan(0, count), y.AsSpan(0, count), z.AsSpan(0, count), some);
            Assert.Equal(all.AsSpan(0, count).ToArray(), some);
        }
    }

    [Fact]
    public void The_mirror_image_has_the_same_levels()
    {
        FieldEcho echo = FieldScenes.Pistons();
        for (int seed = 0; seed < 100; seed++)
        {
            var random = new Random(seed);
            FieldPose pose = FieldScenes.Pose(random);
            float[] x = Points(random, 0, 5);
            float[] y = Points(random, -2, 2);
            float[] z = Points(random, 0, 2.2);
            var levels = new float[PointsPerPose];
            var mirrored = new float[PointsPerPose];
            LevelField.Evaluate(echo, pose, x, y, z, levels);
            LevelField.Evaluate(echo, pose.MirroredLeftRight(), x, [.. y.Select(value => -value)], z, mirrored);
            Assert.Equal(levels, mirrored);
        }
    }

    [Fact]
    public void Behind_a_face_there_is_no_echo()
    {
        var pose = new FieldPose(new Vec3(0, 0.015, 1), new Vec3(0, -0.015, 1), Vec3.UnitX);
        var levels = new float[3];
        LevelField.Evaluate(FieldScenes.Pistons(), pose, [-0.5f, 0f, 0.5f], [0f, 0.5f, 0f], [1f, 1f, 1f], levels);
        Assert.Equal(LevelField.SilentDecibels, levels[0]);
        Assert.Equal(LevelField.SilentDecibels, levels[1]);
        Assert.InRange(levels[2], 95, 110);
    }

    [Fact]
    public void On_the_axis_the_level_is_the_sonar_equation()
    {
        // 95 − 40·log₁₀ 2 − 2·1.3·2 dB for a transmitter and a receiver in one place.
        var pose = new FieldPose(Vec3.UnitZ, Vec3.UnitZ, Vec3.UnitX);
        var levels = new float[1];
        LevelField.Evaluate(FieldScenes.Pistons(), pose, [2f], [0f], [1f], levels);
        Assert.Equal(95 - (40 * Math.Log10(2)) - 5.2, levels[0], 1e-4);
    }

    [Fact]
    public void Spans_of_different_length_are_refused() =>
        Assert.Throws<ArgumentException>(() =>
            LevelField.Evaluate(FieldScenes.Pistons(), new FieldPose(Vec3.Zero, Vec3.Zero, Vec3.UnitX), [1f], [1f, 2f], [1f], new float[1]));

    private static float[] Points(Random random, double low, double high) =>
        [.. Enumerable.Range(0, PointsPerPose).Select(_ => (float)FieldScenes.Uniform(random, low, high))];

    /// <summary>What an error of position by rounding (10⁻⁶ m) and of the beams may do at a position, on top of 0.001 dB.</summary>
    private static double Allowed(FieldEcho echo, FieldPose pose, Vec3 at)
    {
        Vec3 outward = at - pose.TransmitterMetres;
        Vec3 back = at - pose.ReceiverMetres;
        double ct = outward.Dot(pose.UnitAxis) / outward.Length;
        double cr = back.Dot(pose.UnitAxis) / back.Length;
        double turn = 1e-6 / Math.Min(outward.Length, back.Length);
        if (Math.Min(ct, cr) < 0 && Math.Max(ct, cr) < -turn)
        {
            return 0;
        }

        double allowed = 0.001 + (20e-6 / Math.Min(outward.Length, back.Length));
        foreach ((FieldBeam beam, double cosine) in new[] { (echo.Transmit, ct), (echo.Receive, cr) })
        {
            // A turn by this much moves a pattern by at most 20 times as much: its phase is at most 14.5.
            double amplitude = Math.Abs(beam.ExactAmplitude(Math.Clamp(cosine, 0, 1)));
            double error = beam.MaximumAmplitudeError + 1e-6 + (20 * turn);
            allowed += error < 0.5 * amplitude ? 2 * 8.7 * error / amplitude : 400;
        }

        return allowed;
    }
}
