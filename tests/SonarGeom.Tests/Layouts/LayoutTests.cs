using SonarGeom.Files;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Layouts;

public class LayoutTests
{
    private static readonly FiringPlan Firing = new(0.1, 2, 3, 0.05);

    [Theory]
    [InlineData(0, 2, 3, 0.05, "Firing cycle is 0 s")]
    [InlineData(0.1, 4, 3, 0.05, "Number of required hits is 4 hits; it must be from 1 to 3 hits.")]
    [InlineData(0.1, 1, 0, 0.05, "Window of pings is 0")]
    [InlineData(0.1, 1, 1, double.NaN, "Alert latency is NaN")]
    public void Absurd_firing_is_refused(double cycle, int hits, int window, double latency, string message) =>
        Assert.Contains(message, Assert.Throws<ArgumentOutOfRangeException>(() => new FiringPlan(cycle, hits, window, latency)).Message, StringComparison.Ordinal);

    [Fact]
    public void A_layout_needs_sensors_of_different_names()
    {
        Assert.Contains("has no sensor", Assert.Throws<ArgumentException>(() => new SensorLayout("bare", string.Empty, [], Firing)).Message, StringComparison.Ordinal);
        SensorPlacement one = new(
            "brow",
            InputFiles.ReadTransducer("plover-pair-40").Transducer,
            new Mount("brow", Vec3.Zero, Angle.Zero, Angle.Zero, Angle.Zero, MountTolerance.None),
            AnnouncedSide.Ahead);
        Assert.Contains("two sensors named brow", Assert.Throws<ArgumentException>(() => new SensorLayout("twice", string.Empty, [one, one], Firing)).Message, StringComparison.Ordinal);
        Assert.Single(new SensorLayout("once", string.Empty, [one], Firing).Sensors);
    }
}
