using SonarGeom.Layouts;
using SonarGeom.Tests.Coverage;

namespace SonarGeom.Tests.Layouts;

/// <summary>Schedules worked by hand.</summary>
public class FiringScheduleTests
{
    private const double Speed = 343.2;

    // 343.2 m/s and 50 ms: c·T/2 = 8.58 m. A wall at 10 m is seen again at 1.42 m, one at 20 m at 11.42 and 2.84 m.
    [Fact]
    public void Ghosts_are_half_the_way_of_a_cycle_nearer()
    {
        Assert.Equal(8.58, ApparentRange.UnambiguousMetres(0.05, Speed), 1e-12);
        Assert.Equal(1.42, ApparentRange.OfGhostMetres(10, 1, 0.05, Speed), 1e-12);
        Assert.Equal(10, ApparentRange.OfGhostMetres(10, 0, 0.05, Speed), 1e-12);
        Ghost only = Assert.Single(ApparentRange.Ghosts(10, 0.05, Speed, 0.25, 5));
        Assert.Equal(1, only.BurstsBefore);
        Assert.Equal(1.42, only.ApparentRangeMetres, 1e-12);
        Assert.Equal([(1, 11.42), (2, 2.84)], ApparentRange.Ghosts(20, 0.05, Speed, 0.25, 12).Select(g => (g.BurstsBefore, Math.Round(g.ApparentRangeMetres, 9))));
        Assert.Empty(ApparentRange.Ghosts(8.5, 0.05, Speed, 0.25, 5));

        // 1.42 m lies in a dead zone of 1.5 m, and outside a window that ends at 1.4 m.
        Assert.Empty(ApparentRange.Ghosts(10, 0.05, Speed, 1.5, 5));
        Assert.Empty(ApparentRange.Ghosts(10, 0.05, Speed, 0.25, 1.4));
    }

    // Two sensors 0.30 m apart, firing together: the direct sound seems to be at 0.15 m. By a target 1.00 m from one and 1.20 m from the
    // other: 1.10 m. Fired 5 ms apart: 1.716 m of way are taken off, (2.2 − 1.716)/2 = 0.242 m.
    [Fact]
    public void Crosstalk_is_where_half_its_way_is()
    {
        Assert.Equal(0.15, ApparentRange.OfDirectMetres(0.30, 0, Speed), 1e-12);
        Assert.Equal(1.10, ApparentRange.OfPathMetres(1.0, 1.2, 0, Speed), 1e-12);
        Assert.Equal(0.242, ApparentRange.OfPathMetres(1.0, 1.2, 0.005, Speed), 1e-12);

        // Long over when the other fires 10 ms later; and a burst sent after the listener's own seems farther.
        Assert.True(ApparentRange.OfDirectMetres(0.30, 0.010, Speed) < 0);
        Assert.Equal(1.10 + 0.858, ApparentRange.OfPathMetres(1.0, 1.2, -0.005, Speed), 1e-12);
    }

    [Fact]
    public void Sensors_in_turn_fire_once_a_cycle()
    {
        var schedule = FiringSchedule.InTurn(4, 0.05);
        Assert.Equal(0.2, schedule.CycleSeconds, 1e-15);
        Assert.Equal([0, 0.05, 0.1, 0.15, 0.2, 0.25, 0.3, 0.35], schedule.Bursts(2).Select(b => Math.Round(b.StartSeconds, 12)));
        Assert.Equal([0, 1, 2, 3, 0, 1, 2, 3], schedule.Bursts(2).Select(b => b.Sensor));
    }

    // Groups (2) and (0, 1) with slots of 40 ms: sensor 1 hears sensor 0 of the same moment, sensor 2 of 40 ms before, itself of 80 ms before.
    [Fact]
    public void Earlier_bursts_are_those_of_the_groups_before()
    {
        var schedule = new FiringSchedule([[2], [0, 1]], 0.04);
        Assert.Equal(0.04, schedule.OffsetSeconds(1), 1e-15);
        Assert.Equal(
            [(0, 0), (2, 0.04), (0, 0.08), (1, 0.08), (2, 0.12)],
            schedule.Before(1, 0.13).Select(e => (e.Sensor, Math.Round(e.ElapsedSeconds, 12))));
        Assert.Equal([(0, 0.04), (1, 0.04), (2, 0.08)], schedule.Before(2, 0.1).Select(e => (e.Sensor, Math.Round(e.ElapsedSeconds, 12))));
    }

    // Slots of 40 ms, windows of 50: sensor 1, which listens to 50 ms after its burst, also hears sensor 2 that fires 40 ms after it.
    [Fact]
    public void Bursts_sent_while_a_sensor_listens_are_found_when_asked_for()
    {
        var schedule = FiringSchedule.InTurn(3, 0.04);
        Assert.Equal(
            [(2, -0.04), (0, 0.04), (2, 0.08)], schedule.Before(1, 0.09, 0.05).Select(e => (e.Sensor, Math.Round(e.ElapsedSeconds, 12))));

        // One that fires just as listening ends is not heard.
        Assert.Equal([(0, 0.04), (2, 0.08)], schedule.Before(1, 0.09, 0.04).Select(e => (e.Sensor, Math.Round(e.ElapsedSeconds, 12))));
    }

    // Windows of 50, 40 and 40 ms: in turn they need 130 ms; in a cycle of 145 each has 5 ms more. With the last two together 90 ms do.
    [Fact]
    public void A_layout_gives_each_group_its_window_and_a_share_of_the_rest()
    {
        SensorLayout layout = Layout(new FiringPlan(0.145, 2, 3, 0.05));
        Assert.Equal(0.13, layout.ShortestCycleSeconds, 1e-12);
        var inTurn = FiringSchedule.Of(layout);
        Assert.Equal([0.055, 0.045, 0.045], inTurn.SlotsSeconds.Select(s => Math.Round(s, 12)));
        Assert.Equal(0.055, inTurn.OffsetSeconds(1), 1e-12);
        Assert.Equal(0.145, inTurn.CycleSeconds, 1e-12);

        SensorLayout pair = Layout(new FiringPlan(0.09, 2, 3, 0.05) { Groups = [["b", "c"], ["a"]], JitterSeconds = 0.004 });
        Assert.True(pair.HasTimeToListen);
        var grouped = FiringSchedule.Of(pair, seed: 3);
        Assert.Equal([[1, 2], [0]], grouped.Groups.Select(g => g.ToArray()));
        Assert.Equal([0.04, 0.05], grouped.SlotsSeconds.Select(s => Math.Round(s, 12)));
        Assert.Equal((0.004, 3ul), (grouped.JitterSeconds, grouped.Seed));
        Assert.Equal(0.094, pair.Firing.LongestCycleSeconds, 1e-12);
    }

    [Fact]
    public void A_cycle_shorter_than_the_windows_is_no_schedule()
    {
        SensorLayout hurried = Layout(new FiringPlan(0.1, 2, 3, 0.05));
        Assert.False(hurried.HasTimeToListen);
        Assert.Contains("at least 0.13 s", Assert.Throws<ArgumentException>(() => FiringSchedule.Of(hurried)).Message, StringComparison.Ordinal);

        // Overlap is allowed when it is declared, but a sensor never fires again while it listens.
        Assert.Equal(0.05, Layout(new FiringPlan(0.05, 2, 3, 0.05) { Overlaps = true }).ShortestCycleSeconds, 1e-12);
        Assert.Equal([0.05, 0.04, 0.04], FiringSchedule.Of(Layout(new FiringPlan(0.13, 2, 3, 0.05) { Overlaps = true })).SlotsSeconds.Select(s => Math.Round(s, 12)));
        Assert.Equal([0.025, 0.02, 0.02], FiringSchedule.Of(Layout(new FiringPlan(0.065, 2, 3, 0.05) { Overlaps = true })).SlotsSeconds.Select(s => Math.Round(s, 12)));
        Assert.Throws<ArgumentException>(() => FiringSchedule.Of(Layout(new FiringPlan(0.045, 2, 3, 0.05) { Overlaps = true })));
    }

    // A jitter of 4 ms makes ghosts wander over c·J/2 = 0.6864 m while real echoes stay.
    [Fact]
    public void Jitter_lengthens_cycles_by_less_than_its_most_and_is_the_same_for_a_seed()
    {
        var schedule = new FiringSchedule([[0]], 0.05, 0.004, seed: 7);
        double[] starts = [.. schedule.Bursts(2000).Select(b => b.StartSeconds)];
        double[] lengths = [.. starts.Skip(1).Zip(starts, (b, a) => b - a - 0.05)];
        Assert.All(lengths, l => Assert.InRange(l, -1e-12, 0.004));
        Assert.Equal(starts, new FiringSchedule([[0]], 0.05, 0.004, seed: 7).Bursts(2000).Select(b => b.StartSeconds));
        Assert.NotEqual(starts, new FiringSchedule([[0]], 0.05, 0.004, seed: 8).Bursts(2000).Select(b => b.StartSeconds));
        Assert.Equal(0.6864, ApparentRange.GhostSpreadMetres(0.004, Speed), 1e-12);
        Assert.Equal(0.052, schedule.MeanCycleSeconds, 1e-15);

        // The mean of 1999 even draws from 0 to 4 ms: 2 ms with a standard error of 26 µs; five of them.
        Assert.Equal(0.002, lengths.Average(), 1.3e-4);

        // The ghost of the last burst wanders by that, and differs from burst to burst.
        double[] ghosts = [.. lengths.Select(l => ApparentRange.OfPathMetres(10, 10, 0.05 + l, Speed))];
        Assert.InRange(ghosts.Max() - ghosts.Min(), 0.67, 0.6864);
    }

    [Fact]
    public void Impossible_schedules_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new FiringSchedule([], 0.05));
        Assert.Throws<ArgumentException>(() => new FiringSchedule([[0], []], 0.05));
        Assert.Throws<ArgumentException>(() => new FiringSchedule([[0], [2]], 0.05));
        Assert.Throws<ArgumentException>(() => new FiringSchedule([[0, 1], [1]], 0.05));
        Assert.Throws<ArgumentException>(() => new FiringSchedule([[0], [1]], [0.05]));
        Assert.Throws<ArgumentOutOfRangeException>(() => FiringSchedule.InTurn(2, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new FiringSchedule([[0]], 0.05, 2));
        Assert.Throws<ArgumentOutOfRangeException>(() => FiringSchedule.InTurn(2, 0.05).OffsetSeconds(2));
        Assert.Throws<ArgumentOutOfRangeException>(() => ApparentRange.OfGhostMetres(10, -1, 0.05, Speed));
        Assert.Throws<ArgumentOutOfRangeException>(() => ApparentRange.OfGhostMetres(10, 1, 0, Speed));
        Assert.Throws<ArgumentOutOfRangeException>(() => ApparentRange.OfPathMetres(double.NaN, 1, 0, Speed));
    }

    private static SensorLayout Layout(FiringPlan plan) => new(
        "for tests", string.Empty,
        [
            CoverageBench.Sensor("a", "brow", 0, 0),
            CoverageBench.Sensor("b", "chest left", 0, 0, transducer: CoverageBench.WidePair with { ListeningWindowSeconds = 0.04 }),
            CoverageBench.Sensor("c", "chest right", 0, 0, transducer: CoverageBench.WidePair with { ListeningWindowSeconds = 0.04 }),
        ],
        plan);
}
