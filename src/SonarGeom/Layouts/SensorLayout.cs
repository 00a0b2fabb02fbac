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

    /// <summary>Returns the layout with other sensors.</summary>
    /// <param name="sensors">At least one sensor; no two of the same name.</param>
    /// <exception cref="ArgumentException">There is no sensor, or two have the same name.</exception>
    public SensorLayout WithSensors(ImmutableArray<SensorPlacement> sensors) => new(Name, Description, sensors, Firing);
}
