using System.Collections.Immutable;

namespace SonarGeom.Layouts;

/// <summary>A named set of sensors worn on one body.</summary>
public sealed record SensorLayout
{
    /// <summary>Makes a layout.</summary>
    /// <param name="name">Name under which results are told.</param>
    /// <param name="description">What it is meant for, in words.</param>
    /// <param name="sensors">At least one sensor; no two of the same name.</param>
    /// <param name="firing">When the sensors fire.</param>
    /// <exception cref="ArgumentException">There is no sensor, or two have the same name.</exception>
    public SensorLayout(string name, string description, ImmutableArray<SensorPlacement> sensors, FiringPlan firing)
    {
        if (sensors.IsDefaultOrEmpty)
        {
            throw new ArgumentException($"The layout {name} has no sensor; it must have at least one.", nameof(sensors));
        }

        if (sensors.GroupBy(s => s.Name, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new ArgumentException($"The layout {name} has two sensors named {twice.Key}; names must differ.", nameof(sensors));
        }

        Name = name;
        Description = description;
        Sensors = sensors;
        Firing = firing;
    }

    /// <summary>Gets the name under which results are told.</summary>
    public string Name { get; }

    /// <summary>Gets what it is meant for, in words.</summary>
    public string Description { get; }

    /// <summary>Gets the sensors.</summary>
    public ImmutableArray<SensorPlacement> Sensors { get; }

    /// <summary>Gets when the sensors fire.</summary>
    public FiringPlan Firing { get; }

    /// <summary>Gets which reports become which alerts, or null when every report does.</summary>
    /// <exception cref="ArgumentException">A zone names a sensor that the layout does not have.</exception>
    public AlertPlan? Alerts
    {
        get;
        init => field = value?.Zones.FirstOrDefault(z => Sensors.All(s => s.Name != z.Sensor)) is { } stray
            ? throw new ArgumentException($"An alert zone names the sensor {stray.Sensor}, which {Name} does not have; it has {string.Join(", ", Sensors.Select(s => s.Name))}.")
            : value;
    }

    /// <summary>Gets the plan of alerts that holds: the stated one, or the one in which every report alerts.</summary>
    public AlertPlan AlertsInForce => Alerts ?? AlertPlan.EveryReport(Sensors);

    /// <summary>Gets the sensors by index in the groups in which they fire. Sensors that the plan does not name fire alone, after the others.</summary>
    public ImmutableArray<ImmutableArray<int>> FiringGroups
    {
        get
        {
            string[] names = [.. Sensors.Select(s => s.Name)];
            var groups = ImmutableArray.CreateBuilder<ImmutableArray<int>>();
            var placed = new HashSet<int>();
            foreach (ImmutableArray<string> group in Firing.Groups)
            {
                ImmutableArray<int> present = [.. group.Select(n => Array.IndexOf(names, n)).Where(i => i >= 0 && placed.Add(i))];
                if (!present.IsEmpty)
                {
                    groups.Add(present);
                }
            }

            groups.AddRange(Enumerable.Range(0, names.Length).Where(i => !placed.Contains(i)).Select(i => ImmutableArray.Create(i)));
            return groups.ToImmutable();
        }
    }

    /// <summary>Gets the shortest firing cycle that the listening windows allow: those of the groups one after the other or, where groups
    /// may overlap, the longest one, since a sensor cannot fire again while it listens. [s]</summary>
    public double ShortestCycleSeconds => Firing.Overlaps
        ? Sensors.Max(s => s.Transducer.ListeningWindowSeconds)
        : FiringGroups.Sum(GroupWindowSeconds);

    /// <summary>Gets whether every sensor can listen to the end of its window within the cycle.</summary>
    public bool HasTimeToListen => Firing.CycleSeconds >= ShortestCycleSeconds - 1e-9;

    /// <summary>Returns the longest listening window of a group of sensors. [s]</summary>
    /// <param name="sensors">Indices of the sensors, at least one.</param>
    public double GroupWindowSeconds(ImmutableArray<int> sensors) => sensors.Max(i => Sensors[i].Transducer.ListeningWindowSeconds);

    /// <summary>Returns the layout with other sensors.</summary>
    /// <param name="sensors">At least one sensor; no two of the same name.</param>
    /// <exception cref="ArgumentException">There is no sensor, or two have the same name.</exception>
    /// <remarks>Alert zones of sensors that are no longer there go with them.</remarks>
    public SensorLayout WithSensors(ImmutableArray<SensorPlacement> sensors) => new(Name, Description, sensors, Firing)
    {
        Alerts = Alerts is null
            ? null
            : new AlertPlan([.. Alerts.Zones.Where(z => sensors.Any(s => s.Name == z.Sensor))], Alerts.HysteresisMetres, Alerts.MessageSeconds),
    };
}
