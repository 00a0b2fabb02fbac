using SonarGeom.Coverage;

namespace SonarGeom.Tests.Published;

public class StoppingPublishedTests
{
    // The table is rounded to 0.01 m; half a digit, and as much again for its rounded braking travel.
    private const double ToleranceMetres = 0.0065;

    [Fact]
    public void Stopping_distances_match_the_table()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("stopping_distance_computed.csv").Rows)
        {
            double speed = row["walking_speed_m_s"], reaction = row["reaction_s"], latency = row["device_latency_s"];
            Assert.True(
                Math.Abs(row["total_m_at_gentle_1.0_m_s2"] - StoppingModel.StoppingDistanceMetres(speed, reaction, latency, 1.0)) < ToleranceMetres, row.ToString());
            Assert.True(
                Math.Abs(row["total_m_at_2.24_m_s2"] - StoppingModel.StoppingDistanceMetres(speed, reaction, latency, 2.24)) < ToleranceMetres, row.ToString());
        }
    }

    // Perception 0.48 s and slow-down 0.58 s of 16 adults (motion capture, TRB 2023, abstract): a steady stop from 1.3 m/s in
    // 0.58 s takes 2.24 m/s², so that the braking part of the time needed is half the slow-down.
    [Fact]
    public void Time_needed_holds_the_measured_reaction_and_slow_down()
    {
        var walk = new WalkSettings(SpeedMetresPerSecond: 1.3, ReactionSeconds: 0.48, DecelerationMetresPerSecondSquared: 1.3 / 0.58);
        Assert.Equal(0.05 + 0.48 + 0.29, StoppingModel.TimeNeededSeconds(walk, new(0.05, 1, 1, 0)), 1e-12);
    }
}
