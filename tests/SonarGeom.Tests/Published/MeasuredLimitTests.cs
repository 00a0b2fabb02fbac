using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Echoes;
using SonarGeom.Transducers;
using Xunit.Abstractions;

namespace SonarGeom.Tests.Published;

/// <summary>Measured limits of two-can 40 kHz modules off axis, against the whole chain: beam, echo of the target, threshold.</summary>
public class MeasuredLimitTests(ITestOutputHelper output)
{
    /// <summary>Readings nearer than this are called suspect by their author: reported, not asserted.</summary>
    private const double SuspectBelowMetres = 0.85;

    /// <summary>
    /// The report's module. Fitted to its rule and plate beyond 0.85 m: a piston of 6.5 mm and a threshold that falls with time, 21
    /// to 31 dB below the source level at 1 m; the rest does not move these angles.
    /// </summary>
    private static readonly PreparedTransducer Module = new(
        EchoBench.Part(new CircularPiston(0.0065), 0.026, 100, q: 25, window: 30e-3) with
        {
            Threshold = new ThresholdProfile(
            [
                new ThresholdPoint(5.2e-3, 71), new ThresholdPoint(7.2e-3, 64.7), new ThresholdPoint(8.5e-3, 62.7),
                new ThresholdPoint(10.5e-3, 61), new ThresholdPoint(13e-3, 60.5),
            ]),
        },
        new EchoMedium(new AirState(Temperature.FromDegreesCelsius(16.7), 32.1)));

    // Within 6° beyond 0.85 m: digitising ±0.4°, repeatability of the author up to 5°. The readings of the plastic-faced panel jump by up
    // to 8.4° from one range to the next 15 cm on, so there the mean of each reading and its neighbours is held to 6°.
    [Fact]
    public void Limits_of_flat_targets()
    {
        var panel = new List<double>();
        foreach (PublishedTable.Row row in PublishedTable.Read("off_axis_limit_flat_targets.csv").Rows)
        {
            double range = row["range_cm"] / 100;
            double width = row["width_cm"] / 100;
            double height = row["height_cm"] / 100;
            var plate = PolygonPart.Rectangle("plate", new Vec3(range, 0, 0), new Vec3(0, -0.5 * width, 0), new Vec3(0, 0, 0.5 * height));

            // The report takes the half-width angle of the target off the turn.
            double halfWidth = Math.Atan2(0.5 * width, range) * 180 / Math.PI;
            double predicted = LargestTurn(Module, plate) - halfWidth;
            double measured = row["max_offaxis_half_angle_deg"];
            output.WriteLine($"{row.Text("target"),-42} {range:0.00} m: measured {measured,5:0.0}°, predicted {predicted,5:0.0}°, residual {predicted - measured,5:0.0}°");
            if (range < SuspectBelowMetres)
            {
                continue;
            }

            if (row.Text("target").StartsWith("panel", StringComparison.Ordinal))
            {
                panel.Add(predicted - measured);
            }
            else
            {
                Assert.True(Math.Abs(predicted - measured) <= 6, $"{row}: predicted {predicted}°");
            }
        }

        for (int i = 0; i < panel.Count; i++)
        {
            double mean = panel[Math.Max(0, i - 1)..Math.Min(panel.Count, i + 2)].Average();
            Assert.True(Math.Abs(mean) <= 6, $"panel, reading {i}: mean residual {mean}°");
        }

        Assert.True(Math.Abs(panel.Average()) <= 4, $"panel: mean residual {panel.Average()}°");
    }

    // Another module of the kind, third hand. The card is held to 6° beyond 0.85 m. The cylinder, known only from a sentence, was heard
    // farther off axis and farther away than the card of the same module allows in this model (4 dB are missing): reported, and
    // asserted only not to be flattered.
    [Fact]
    public void Limits_of_a_card_and_a_cylinder()
    {
        foreach (PublishedTable.Row row in PublishedTable.Read("half_angle_card_and_cylinder.csv").Rows)
        {
            double range = row["range_cm"] / 100;
            double measured = row["half_angle_deg"];
            bool isCard = row.Text("target").StartsWith("card", StringComparison.Ordinal);
            double predicted = LargestAside(range, isCard ? Card : Cylinder);
            output.WriteLine($"{row.Text("target"),-42} {range:0.00} m: measured {measured,5:0.0}°, predicted {predicted,5:0.0}°, residual {predicted - measured,5:0.0}°");
            if (range >= SuspectBelowMetres)
            {
                Assert.True(isCard ? Math.Abs(predicted - measured) <= 6 : predicted <= measured + 6, $"{row}: predicted {predicted}°");
            }
        }

        static TargetPart Card(double x, double y) =>
            PolygonPart.Rectangle("card", new Vec3(x, y, 0), new Vec3(0, -0.15, 0), new Vec3(0, 0, 0.15));

        static TargetPart Cylinder(double x, double y) =>
            new CylinderPart("cylinder", new Vec3(x, y, -1.016), new Vec3(x, y, 0.204), 0.0445);
    }

    /// <summary>The largest turn of the sensor at which a target straight ahead of its mount is heard. [°]</summary>
    private static double LargestTurn(PreparedTransducer module, TargetPart target)
    {
        double last = 0;
        for (double turn = 0; turn < 60; turn += 0.1)
        {
            SensorAtPose sensor = EchoBench.At(module, Vec3.Zero, turn);
            last = ObstacleEcho.BandMarginDecibels(sensor, [target], default) >= 0 ? turn : last;
        }

        return last;
    }

    /// <summary>The largest bearing at which a target that keeps its attitude is heard. [°]</summary>
    private static double LargestAside(double range, Func<double, double, TargetPart> at)
    {
        double last = 0;
        SensorAtPose sensor = EchoBench.At(Module, Vec3.Zero);
        for (double bearing = 0; bearing < 60; bearing += 0.1)
        {
            var (s, c) = Math.SinCos(bearing * Math.PI / 180);
            last = ObstacleEcho.BandMarginDecibels(sensor, [at(range * c, range * s)], default) >= 0 ? bearing : last;
        }

        return last;
    }
}
