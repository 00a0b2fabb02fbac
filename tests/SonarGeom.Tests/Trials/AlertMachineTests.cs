using SonarGeom.Layouts;
using SonarGeom.Tests.Coverage;
using SonarGeom.Trials;

namespace SonarGeom.Tests.Trials;

public class AlertMachineTests
{
    private static readonly SensorLayout Two = new(
        "two", string.Empty,
        [CoverageBench.Sensor("brow", "brow", 0, 0), CoverageBench.Sensor("belt", "belt front", 0, 0)], new FiringPlan(0.1, 2, 3, 0.05))
    {
        Alerts = new AlertPlan(
            [
                new AlertZone("brow", 0, 1, AlertMessage.HeadHigh, 1, 0.4), new AlertZone("brow", 1, 2, AlertMessage.HeadHigh, 2, 1),
                new AlertZone("belt", 0, 2, AlertMessage.Low, 2, 1),
            ],
            hysteresisMetres: 0.2,
            messageSeconds: 0.3),
    };

    private readonly AlertMachine _machine = new(Two);

    [Fact]
    public void Two_of_three_pings_make_an_alert_after_the_latency()
    {
        Assert.Null(Hear(0, 0, 1.5));
        Assert.Null(Hear(0, 0.1, null));
        Alert alert = Hear(0, 0.2, 1.4)!.Value;
        Assert.Equal(AlertMessage.HeadHigh, alert.Message);
        Assert.Equal(0.25, alert.FeltSeconds, 1e-12);
        Assert.Equal(1.4, alert.RangeMetres);
    }

    [Fact]
    public void One_of_four_does_not()
    {
        Assert.Null(Hear(0, 0, 1.5));
        Assert.Null(Hear(0, 0.1, null));
        Assert.Null(Hear(0, 0.2, null));
        Assert.Null(Hear(0, 0.3, 1.5));
    }

    [Fact]
    public void Alerts_repeat_after_the_repeat_time_and_not_before()
    {
        double[] felt = [.. Enumerable.Range(0, 31).Select(i => Hear(0, 0.1 * i, 1.5)).OfType<Alert>().Select(a => a.FeltSeconds - 0.05)];
        Assert.Equal([0.1, 1.1, 2.1], felt.Select(f => Math.Round(f, 6)));
    }

    [Fact]
    public void A_zone_that_has_alerted_reaches_farther()
    {
        Assert.Null(Hear(0, 0, 2.1));
        Assert.Null(Hear(0, 0.1, 2.1));
        Hear(0, 0.2, 1.9);
        Assert.NotNull(Hear(0, 0.3, 1.9));
        Assert.NotNull(Hear(0, 1.4, 2.1));
        Assert.Null(Hear(0, 2.5, 2.3));
    }

    [Fact]
    public void The_urgent_cuts_in_and_the_rest_waits()
    {
        Hear(1, 0, 1.5);
        Assert.Equal(AlertMessage.Low, Hear(1, 0.1, 1.5)!.Value.Message);
        Hear(0, 0.12, 1.5);
        Assert.Null(Hear(0, 0.22, 1.5));
        Assert.True(_machine.WasBusy);
        Hear(0, 0.30, 0.9);
        Assert.Equal(AlertMessage.HeadHigh, Hear(0, 0.38, 0.9)!.Value.Message);
    }

    [Fact]
    public void A_zone_of_a_sensor_that_is_not_there_is_refused() =>
        Assert.Throws<ArgumentException>(() => Two with { Alerts = new AlertPlan([new AlertZone("knee", 0, 1, AlertMessage.Low)]) });

    [Fact]
    public void Without_a_plan_every_report_alerts_to_its_side()
    {
        var machine = new AlertMachine(TrialBench.Pair[0]);
        machine.Take(1, 0, new PingReport(7.9, AlertSource.Obstacle, 0));
        Assert.Equal(AlertMessage.Right, machine.Take(1, 0.24, new PingReport(7.7, AlertSource.Obstacle, 0))!.Value.Message);
    }

    private Alert? Hear(int sensor, double seconds, double? range) =>
        _machine.Take(sensor, seconds, range is { } r ? new PingReport(r, AlertSource.Obstacle, 0) : PingReport.Silence);
}
