using SonarGeom.Layouts;

namespace SonarGeom.Trials;

/// <summary>Turns the reports of all sensors into alerts: k of the last n pings in a zone, hysteresis, priority, repeats.</summary>
/// <remarks>A zone begins to alert when the newest ping and enough of those before lie in it, and stops when none of the last n does.
/// While a message lasts, only one of higher urgency begins.</remarks>
internal sealed class AlertMachine
{
    private readonly FiringPlan _firing;
    private readonly AlertPlan _plan;
    private readonly Zone[] _zones;
    private readonly PingReport[][] _last;
    private readonly int[] _next;
    private double _busyUntil = double.NegativeInfinity;
    private int _busyWith;

    internal AlertMachine(SensorLayout layout)
    {
        _firing = layout.Firing;
        _plan = layout.AlertsInForce;
        string[] names = [.. layout.Sensors.Select(s => s.Name)];
        _zones = [.. _plan.Zones.Select(z => new Zone(z, Array.IndexOf(names, z.Sensor)))];
        _last = [.. names.Select(_ => new PingReport[_firing.WindowPings])];
        _next = new int[names.Length];
        Restart();
    }

    /// <summary>Gets whether the last ping would have alerted but for another message.</summary>
    internal bool WasBusy { get; private set; }

    /// <summary>Forgets all pings.</summary>
    internal void Restart()
    {
        _busyUntil = double.NegativeInfinity;
        Array.Clear(_next);
        foreach (PingReport[] last in _last)
        {
            Array.Fill(last, PingReport.Silence);
        }

        foreach (Zone zone in _zones)
        {
            zone.IsActive = false;
            zone.DueSeconds = double.NegativeInfinity;
        }
    }

    /// <summary>Takes one ping and returns the alert that it sets off, or null.</summary>
    internal Alert? Take(int sensor, double seconds, in PingReport report)
    {
        _last[sensor][_next[sensor]] = report;
        _next[sensor] = (_next[sensor] + 1) % _firing.WindowPings;
        Zone? chosen = null;
        WasBusy = false;
        foreach (Zone zone in _zones)
        {
            if (zone.Sensor == sensor && Update(zone, report) && zone.DueSeconds <= seconds
                && (chosen is null || zone.Its.Priority < chosen.Its.Priority))
            {
                chosen = zone;
            }
        }

        if (chosen is null)
        {
            return null;
        }

        if (_busyUntil > seconds && chosen.Its.Priority >= _busyWith)
        {
            WasBusy = true;
            return null;
        }

        _busyUntil = seconds + _plan.MessageSeconds;
        _busyWith = chosen.Its.Priority;
        chosen.DueSeconds = seconds + chosen.Its.RepeatSeconds;
        return new Alert(seconds + _firing.AlertLatencySeconds, chosen.Its.Message, sensor, report.RangeMetres, report.Source, report.Hazard);
    }

    // Returns whether the zone is in alert and this very ping lies in it.
    private bool Update(Zone zone, in PingReport report)
    {
        double far = zone.Its.ToMetres + (zone.IsActive ? _plan.HysteresisMetres : 0);
        int hits = 0;
        foreach (PingReport one in _last[zone.Sensor])
        {
            hits += IsIn(zone.Its, far, one) ? 1 : 0;
        }

        bool isIn = IsIn(zone.Its, far, report);
        zone.IsActive = zone.IsActive ? hits > 0 : isIn && hits >= _firing.RequiredHits;
        return zone.IsActive && isIn;
    }

    private static bool IsIn(AlertZone zone, double far, in PingReport report) =>
        !report.IsSilent && report.RangeMetres >= zone.FromMetres && report.RangeMetres < far;

    private sealed class Zone(AlertZone its, int sensor)
    {
        internal AlertZone Its => its;

        internal int Sensor => sensor;

        internal bool IsActive { get; set; }

        internal double DueSeconds { get; set; }
    }
}
