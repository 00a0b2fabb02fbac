using System.Globalization;
using System.Text;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Transducers;

namespace SonarGeom.Cli.Results;

/// <summary>A layout as one text that differs wherever two layouts hear or alert differently.</summary>
internal static class LayoutPrint
{
    private const double Wavenumber = 730;

    /// <summary>Returns the text.</summary>
    internal static string Of(SensorLayout layout)
    {
        var text = new StringBuilder();
        FiringPlan firing = layout.Firing;
        Add(text, firing.CycleSeconds, firing.RequiredHits, firing.WindowPings, firing.AlertLatencySeconds, firing.JitterSeconds, firing.Overlaps ? 1 : 0);
        text.Append(string.Join('|', firing.Groups.Select(g => string.Join(',', g))));
        foreach (SensorPlacement s in layout.Sensors)
        {
            Transducer t = s.Transducer;
            text.Append(s.Name).Append(s.Mount.Site).Append(s.Announces);
            Add(
                text, s.Mount.OffsetMetres.X, s.Mount.OffsetMetres.Y, s.Mount.OffsetMetres.Z, s.Mount.Azimuth.Radians, s.Mount.Tilt.Radians, s.Mount.Roll.Radians,
                s.Mount.Tolerance.Azimuth.Radians, s.Mount.Tolerance.Tilt.Radians, s.Mount.Tolerance.Roll.Radians, s.Mount.Tolerance.PositionMetres,
                t.NominalFrequency.Hertz, t.SourceLevelDecibels, t.NoiseLevelDecibels, t.BurstCycles, t.TransmitterQ, t.ReceiverQ, t.BlankingSeconds, t.RingDownSeconds,
                t.ListeningWindowSeconds, t.TransmitterOffsetMetres.X, t.TransmitterOffsetMetres.Y, t.TransmitterOffsetMetres.Z,
                t.ReceiverOffsetMetres.X, t.ReceiverOffsetMetres.Y, t.ReceiverOffsetMetres.Z);
            if (s.Mount.Sway is { } sway)
            {
                Add(text, sway.Tilt.Radians, sway.Azimuth.Radians, sway.LagFraction);
            }

            Add(text, [.. t.Threshold.Points.SelectMany(p => new[] { p.TimeSeconds, p.LevelDecibels })]);
            for (int degrees = 0; degrees < 90; degrees += 3)
            {
                (double sine, double cosine) = Math.SinCos(degrees * Math.PI / 180);
                foreach (Vec3 towards in (ReadOnlySpan<Vec3>)[new(cosine, sine, 0), new(cosine, -sine, 0), new(cosine, 0, sine), new(cosine, 0, -sine)])
                {
                    Add(text, t.Transmit.Amplitude(towards, Wavenumber), t.Receive.Amplitude(towards, Wavenumber));
                }
            }
        }

        AlertPlan alerts = layout.AlertsInForce;
        Add(text, alerts.HysteresisMetres, alerts.MessageSeconds);
        foreach (AlertZone zone in alerts.Zones)
        {
            text.Append(zone.Sensor).Append(zone.Message);
            Add(text, zone.FromMetres, zone.ToMetres, zone.Priority, zone.RepeatSeconds);
        }

        return text.ToString();
    }

    private static void Add(StringBuilder text, params ReadOnlySpan<double> values)
    {
        foreach (double value in values)
        {
            text.Append(value.ToString("R", CultureInfo.InvariantCulture)).Append(' ');
        }
    }
}
