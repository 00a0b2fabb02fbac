using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Coverage;
using SonarGeom.Tests.Echoes;
using SonarGeom.Transducers;
using SonarGeom.Trials;

namespace SonarGeom.Tests.Trials;

public class EchoBoundsTests
{
    // Seeded poses of a sensor round obstacles of every kind: no echo is louder, no margin larger, than the bound at the bounding box.
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    public void No_echo_is_louder_than_its_bound(int seed)
    {
        var random = new Random(seed);
        Transducer transducer = seed % 2 == 0
            ? CoverageBench.WidePair
            : CoverageBench.WidePair with { Transmit = new RectangularPiston(0.03, 0.012), Receive = new RectangularPiston(0.03, 0.012), SourceLevelDecibels = 120 };
        for (int i = 0; i < 60; i++)
        {
            Obstacle obstacle = RandomObstacles.Any(random);
            TrialCourse course = TrialBench.Course(TrialBench.Calm, obstacle);
            Hazard hazard = course.MainPlace.Hazards[0];
            var bounds = EchoBounds.Of(transducer, EchoMedium.Standard, hazard.Parts);
            var prepared = new PreparedTransducer(transducer, EchoMedium.Standard);
            var day = new DayBounds(bounds, prepared, course.MainPlace, needsLevels: true);
            var near = new NearHazard(0, hazard, Vec3.Zero, false);
            for (int k = 0; k < 60; k++)
            {
                Vec3 at = obstacle.PositionMetres + new Vec3(-4 * random.NextDouble(), 2 * (random.NextDouble() - 0.5), 0);
                at = at with { Z = 0.1 + (1.7 * random.NextDouble()) };
                Vec3 towards = obstacle.PositionMetres - at;
                double yaw = (Math.Atan2(towards.Y, towards.X) * 180 / Math.PI) + (60 * (random.NextDouble() - 0.5));
                var pose = new SensorAtPose(prepared, new RigidTransform(
                    Rotation.FromAzimuthTiltRoll(Angle.FromDegrees(yaw), Angle.FromDegrees(60 * (random.NextDouble() - 0.5)), Angle.Zero), at));
                double distance = near.DistanceMetres(pose.MidpointMetres), beams = day.BeamsDecibels(pose.MidpointMetres, pose.Boresight, near);
                for (int p = 0; p < hazard.Parts.Length; p++)
                {
                    // The loudest ping in a thousand at foliage.
                    BandEcho echo = hazard.Parts[p] is FoliagePart leaves
                        ? FoliageEcho.Ping(pose, leaves, Vec3.Zero, 0.999)
                        : PartEchoes.EvaluateBand(pose, hazard.Parts[p], Vec3.Zero);
                    if (echo.LevelDecibels < 20 || echo.RangeMetres < 0.1)
                    {
                        continue;
                    }

                    string what = $"seed {seed}, obstacle {i} ({obstacle.Kind}), pose {k}, {hazard.Parts[p].Name} at {echo.RangeMetres:0.00} m: {echo.LevelDecibels:0.0} dB";
                    Assert.True(echo.RangeMetres >= distance - 1e-3, what);
                    Assert.True(!near.IsBehind(pose.MidpointMetres, pose.Boresight), what);
                    Assert.True(echo.LevelDecibels <= day.LevelDecibels(0, distance, beams), $"{what}, bound {day.LevelDecibels(0, distance, beams):0.0}");
                    double margin = echo.LevelDecibels - prepared.DetectionThresholdDecibels(echo.RangeMetres);
                    Assert.True(margin <= day.MarginDecibels(0, p, distance, beams), $"{what}, margin bound {day.MarginDecibels(0, p, distance, beams):0.0}");
                }
            }
        }
    }
}
