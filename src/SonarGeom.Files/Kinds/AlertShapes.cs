using System.Collections.Immutable;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Shapes;
using SonarGeom.Layouts;

namespace SonarGeom.Files.Kinds;

/// <summary>How the alerts of a layout are written.</summary>
internal static class AlertShapes
{
    private const int MostZones = 64;
    private const string SensorName = "sensor";

    private static readonly ObjectShape<AlertZone> Zone = new("alert_zone", "A stretch of ranges of one sensor in which reports become an alert.", m =>
    {
        Member<string> sensor = m.Required(SensorName, new TextShape(40), "The name of the sensor.");
        Member<double> from = m.Optional("from_m", new NumberShape(0, 20), 0, "The near end of the zone, in reported range. [m]");
        Member<double> to = m.Required("to_m", new NumberShape(0.05, 30), "The far end of the zone, in reported range. [m]");
        Member<AlertMessage> message = m.Required("message", ChoiceShape.OfEnum<AlertMessage>(), "What the alert tells.");
        Member<int> priority = m.Optional("priority", new WholeNumberShape(1, 100), 1, "How urgent it is, 1 first: it cuts in on messages of a higher number.");
        Member<double> repeat = m.Optional("repeat_ms", new NumberShape(50, 60000), 1000, "The time from one alert to the next while reports stay in the zone. [ms]");
        return v =>
        {
            if (!(to.From(v) > from.From(v)))
            {
                v.Fault(to, $"to_m is {to.From(v)}; it must be above from_m, which is {from.From(v)}.");
                return new AlertZone(sensor.From(v), 0, 1, message.From(v));
            }

            return new AlertZone(sensor.From(v), from.From(v), to.From(v), message.From(v), priority.From(v), repeat.From(v) / 1000);
        };
    });

    /// <summary>Gets how a plan of alerts is written.</summary>
    internal static ObjectShape<AlertPlan?> Plan { get; } = new("alert_plan", "Which reports become which alerts.", m =>
    {
        Member<ImmutableArray<AlertZone>> zones = m.Required("zones", new ListShape<AlertZone>(Zone, 1, MostZones), "The zones; those of one sensor may overlap. A sensor without a zone never alerts.");
        Member<double> hysteresis = m.Optional("hysteresis_m", new NumberShape(0, 2), 0.1, "How much farther than its far end a zone reaches once it has alerted. [m]");
        Member<double> message = m.Optional("message_ms", new NumberShape(0, 10000), 250, "How long a message lasts; another of the same or lower urgency waits. [ms]");
        return v => new AlertPlan(zones.From(v), hysteresis.From(v), message.From(v) / 1000);
    });

    /// <summary>Whether all zones are those of sensors of the layout; the first that is not is told.</summary>
    internal static bool AreOf(AlertPlan plan, SensorLayout layout, MemberValues v)
    {
        string[] known = [.. layout.Sensors.Select(s => s.Name)];
        if (plan.Zones.FirstOrDefault(z => !known.Contains(z.Sensor)) is not { } stray)
        {
            return true;
        }

        v.Fault($"alerts name the sensor \"{PlacedValue.Short(stray.Sensor)}\", which the layout does not have; {NearestName.Advice(stray.Sensor, known)}");
        return false;
    }
}
