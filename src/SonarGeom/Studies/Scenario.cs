using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes.Facets;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;

namespace SonarGeom.Studies;

/// <summary>Everything that a study starts from: the air, who wears which sensors, what stands in the way, and what is asked. Pure data.</summary>
public sealed record Scenario
{
    /// <summary>Makes a scenario.</summary>
    /// <param name="name">Name under which results are told.</param>
    /// <param name="description">What it stands for, in words.</param>
    /// <param name="wearers">The wearers, the main one first; at least one, no two of the same name.</param>
    /// <param name="layout">The layout that is studied.</param>
    /// <param name="obstacles">What stands in the way, and the ground it stands on.</param>
    /// <param name="probes">The probes of the maps; at least one, no two of the same name.</param>
    /// <param name="requirements">Demands on the maps; each names one of the probes.</param>
    /// <exception cref="ArgumentException">Something is missing, named twice, or names a probe that is not there.</exception>
    public Scenario(
        string name,
        string description,
        ImmutableArray<WearerSpec> wearers,
        SensorLayout layout,
        ObstacleSet obstacles,
        ImmutableArray<Probe> probes,
        ImmutableArray<Requirement> requirements)
    {
        ArgumentNullException.ThrowIfNull(name);
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(obstacles);
        if (wearers.IsDefaultOrEmpty || probes.IsDefaultOrEmpty)
        {
            throw new ArgumentException($"The scenario {name} must have at least one wearer and one probe.");
        }

        RefuseTwice(wearers.Select(w => w.Name), "wearers");
        RefuseTwice(probes.Select(p => p.Name), "probes");
        ImmutableArray<Requirement> demands = requirements.IsDefault ? [] : requirements;
        foreach (Requirement demand in demands)
        {
            if (!probes.Any(p => p.Name == demand.ProbeName))
            {
                throw new ArgumentException(
                    $"A requirement names the probe {demand.ProbeName}, which the scenario does not have; it has {string.Join(", ", probes.Select(p => p.Name))}.");
            }
        }

        Name = name;
        Description = description ?? string.Empty;
        Wearers = wearers;
        Layout = layout;
        Obstacles = obstacles;
        Probes = probes;
        Requirements = demands;
    }

    /// <summary>Gets the name under which results are told.</summary>
    public string Name { get; }

    /// <summary>Gets what it stands for, in words.</summary>
    public string Description { get; }

    /// <summary>Gets the state of the air.</summary>
    public AirState Air { get; init; } = AirState.Standard;

    /// <summary>Gets the formula for the speed of sound.</summary>
    public SoundSpeedModel SoundSpeedModel { get; init; } = SoundSpeedModel.Humid;

    /// <summary>Gets what the device assumes about the air.</summary>
    public DeviceSettings Device { get; init; } = new();

    /// <summary>Gets the wearers, the main one first.</summary>
    public ImmutableArray<WearerSpec> Wearers { get; }

    /// <summary>Gets the wearer for whom the maps are drawn.</summary>
    public WearerSpec MainWearer => Wearers[0];

    /// <summary>Gets the layout that is studied.</summary>
    public SensorLayout Layout { get; init; }

    /// <summary>Gets the layouts with which it is compared; may be empty.</summary>
    public ImmutableArray<SensorLayout> CompareLayouts { get; init; } = [];

    /// <summary>Gets what stands in the way, and the ground it stands on.</summary>
    public ObstacleSet Obstacles { get; init; }

    /// <summary>Gets how the wearer walks, reacts and stops.</summary>
    public WalkSettings Walk { get; init; } = new();

    /// <summary>Gets the grid of the maps.</summary>
    public MapSettings Maps { get; init; } = new();

    /// <summary>Gets which engine computes the echoes that verdicts rest on, obstacle by obstacle. Maps of probes take closed forms.</summary>
    public EngineRequests VerdictEngines { get; init; } = EngineRequest.Suitable;

    /// <summary>Gets the probes of the maps.</summary>
    public ImmutableArray<Probe> Probes { get; }

    /// <summary>Gets the demands on the maps; may be empty.</summary>
    public ImmutableArray<Requirement> Requirements { get; }

    /// <summary>Returns the scenario with other wearers, probes or requirements.</summary>
    /// <param name="wearers">The wearers, or null to keep them.</param>
    /// <param name="probes">The probes, or null to keep them.</param>
    /// <param name="requirements">The requirements, or null to keep them.</param>
    /// <exception cref="ArgumentException">Something is missing, named twice, or names a probe that is not there.</exception>
    public Scenario With(
        ImmutableArray<WearerSpec>? wearers = null, ImmutableArray<Probe>? probes = null, ImmutableArray<Requirement>? requirements = null) =>
        new(Name, Description, wearers ?? Wearers, Layout, Obstacles, probes ?? Probes, requirements ?? Requirements)
        {
            Air = Air,
            SoundSpeedModel = SoundSpeedModel,
            Device = Device,
            CompareLayouts = CompareLayouts,
            Walk = Walk,
            Maps = Maps,
            VerdictEngines = VerdictEngines,
        };

    private static void RefuseTwice(IEnumerable<string> names, string what)
    {
        if (names.GroupBy(n => n, StringComparer.Ordinal).FirstOrDefault(g => g.Count() > 1) is { } twice)
        {
            throw new ArgumentException($"Two {what} are named {twice.Key}; names must differ.");
        }
    }
}
