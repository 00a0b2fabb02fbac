using SonarGeom.Geometry;

namespace SonarGeom.Tests.Geometry;

public class RotationTests
{
    [Fact]
    public void TheShortestTurnBringsOneDirectionToAnother()
    {
        var random = new Random(8);
        for (int i = 0; i < 1000; i++)
        {
            Vec3 from = Direction(), to = i % 10 == 0 ? -from : i % 10 == 1 ? from : Direction();
            var turn = Rotation.Between(from, to);
            Assert.True(turn.Apply(from).DistanceTo(to) < 1e-12);

            // Proper, and shortest: its axis is across both, so that the angle of the turn is that between them.
            Assert.Equal(1, turn.AxisX.Cross(turn.AxisY).Dot(turn.AxisZ), 1e-12);
            double trace = turn.AxisX.X + turn.AxisY.Y + turn.AxisZ.Z;
            Assert.Equal(from.Dot(to), 0.5 * (trace - 1), 1e-12);
        }

        Vec3 Direction() => new Vec3(random.NextDouble() - 0.5, random.NextDouble() - 0.5, random.NextDouble() - 0.5).Normalized();
    }
}
