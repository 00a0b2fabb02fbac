using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Obstacles;

namespace SonarGeom.Studies;

/// <summary>Puts findings into sentences.</summary>
public static class Findings
{
    /// <summary>Returns the cautions that go with every result.</summary>
    public static ImmutableArray<string> Cautions { get; } =
    [
        "This is a design aid. It estimates geometry and echoes on simple bodies and shapes; it is no proof that any device or place is safe.",
        "A detector of this kind adds to a long cane or guide dog and never replaces one. Stairs, kerbs, gaps, glass, thin wire, soft cloth and fast traffic may give no usable echo.",
        "Warned in time means that an echo is predicted early enough under the stated assumptions, not that a person will stop. Check the stopping distance at the walking speed.",
        "A zone shown as clear is clear only for the probes, obstacles, wearers and weather that were computed.",
        "Choose and fit a layout with a qualified orientation and mobility specialist and with the person who will wear it; follow the consent and ethics rules that apply.",
        "First trials: a sighted guide beside the wearer, a quiet closed area, the cane in use, one new thing at a time. Stop if the wearer is unsure.",
        "Body size, posture, coat, bag and rain change the result: check the small, the tall and the bent head.",
        "Do not raise the transmit level to gain range without checking published exposure limits for airborne ultrasound for wearer, bystanders, children and dogs: dogs hear 40 kHz.",
        "Keep ears and one hand free: the sounds of traffic come first. Local accessibility codes and licensed practice prevail.",
    ];

    /// <summary>Returns the worst finding in one sentence.</summary>
    /// <param name="verdicts">The verdicts.</param>
    /// <param name="maps">The maps.</param>
    /// <param name="zones">The blind zones.</param>
    public static string Worst(
        ImmutableArray<ObstacleVerdict> verdicts, IReadOnlyList<ApproachMap> maps, ImmutableArray<BlindZone> zones)
    {
        ObstacleVerdict? worst = verdicts.Where(v => v.IsDanger)
            .OrderByDescending(v => BlindZoneFinder.WeightOf(v.HighBand))
            .ThenByDescending(v => v.ClosingSpeedMetresPerSecond)
            .ThenBy(v => v.WarningSeconds)
            .ThenBy(v => v.MarginAtNeedDecibels)
            .FirstOrDefault();
        if (worst is not null)
        {
            string band = worst.HighBand.ToString().ToLowerInvariant();
            string rest = verdicts.Count(v => v.IsDanger) is var n && n > 1 ? $" {n} of {verdicts.Count(v => v.IsOnCourse)} obstacles on the way are not warned of in time." : string.Empty;
            string what = worst switch
            {
                { LostAgainBelowMetres: > 0 } => $"is reported from {worst.HeldFromMetres:0.0} m on and lost again below {worst.LostAgainBelowMetres:0.0} m",
                { Outcome: VerdictOutcome.TooLate } => $"is first reported {worst.WarningSeconds:0.0} s before contact, where {worst.TimeNeededSeconds:0.0} s are needed",
                { Outcome: VerdictOutcome.WrongSide } => "is announced on the wrong side",
                { Outcome: VerdictOutcome.Withheld } => $"gets no verdict: {worst.Withheld.TrimEnd('.')}",
                _ => "is not reliably reported at all",
            };
            string why = worst.Cause is LimitingCause.None or LimitingCause.WrongSide or LimitingCause.TooLate ? string.Empty : $" Cause: {InWords(worst)}.";
            string note = worst.Obstacle.Note.Length == 0 ? string.Empty : $" ({worst.Obstacle.Id}: {worst.Obstacle.Note.TrimEnd('.')}.)";
            return $"At {band} height {worst.Obstacle.Id} {what}.{why}{rest}{note}";
        }

        BlindZone? zone = zones.OrderByDescending(z => z.DangerSquareMetres).FirstOrDefault();
        return zone is null
            ? "No blind zone was found for the probes computed; see the assumptions."
            : $"No obstacle of the set is missed, but the {zone.Band.ToString().ToLowerInvariant()} band has a blind zone of {zone.InscribedDiameterMetres * 100:0} cm for {zone.ProbeName}: {InWords(zone.Cause)}.";
    }

    /// <summary>What the surface integral of a mesh leaves out.</summary>
    public const string MeshesLeaveOut =
        "Waves from one facet to another are left out: where a mesh has an inner corner they may add to its echo or weaken it, so a margin of a few decibels there is no proof.";

    /// <summary>What the echo of foliage leaves out.</summary>
    public const string FoliageLeavesOut =
        "Branches and stems, wind, wet leaves, and waves from leaf to leaf or by way of the ground are left out; sizes and numbers of leaves differ from plant to plant and season to season, and bare twigs return far less.";

    private static IEnumerable<string> Engines(Scenario scenario)
    {
        const string Off = "It is looked at in four stride phases and at every second distance, the lesser of two neighbours holds in between, and 0.6 dB, its estimated error, is taken off.";
        EngineRequest usual = scenario.VerdictEngines.Usual;
        if (usual == EngineRequest.SurfaceIntegral)
        {
            yield return $"Verdicts: by surface integral, as asked for, of every part that has a surface and is not thinner than ka 5; the others by closed form. {Off} Causes are told by closed forms, and maps, slices and strips are closed forms.";
        }
        else if (usual == EngineRequest.ClosedForm)
        {
            yield return "Verdicts: closed forms only, as asked for.";
        }

        foreach ((string id, EngineRequest engine) in scenario.VerdictEngines.Of.Where(e => e.Value != usual))
        {
            yield return $"{id}: " + engine switch
            {
                EngineRequest.SurfaceIntegral => $"by surface integral, as asked for, of every part that has a surface and is not thinner than ka 5. {Off}",
                EngineRequest.ClosedForm => "by closed forms only, as asked for.",
                _ => "by the engine that suits each part, as asked for.",
            };
        }

        if (scenario.Obstacles.Obstacles.Any(o => o.Kind == ObstacleKind.Mesh))
        {
            yield return (usual == EngineRequest.Suitable ? $"Meshes: by surface integral. {Off}" : "Meshes:")
                + $" {MeshesLeaveOut}";
        }
    }

    private static IEnumerable<string> Leaves(Scenario scenario)
    {
        if (scenario.Obstacles.Obstacles.Any(o => o.Kind == ObstacleKind.Foliage))
        {
            yield return "Foliage: round flat leaves at random places and attitudes. Its echo swings from ping to ping; verdicts and traces take the level that nine pings in ten are above, told up to 4 dB too low, "
                + "and trials draw every ping. What lies behind leaves is weakened by their shadow. "
                + FoliageLeavesOut;
        }
    }

    /// <summary>Returns the cause of a verdict in words, the obstacle that hides it by its name.</summary>
    /// <param name="verdict">The verdict.</param>
    public static string InWords(ObstacleVerdict verdict)
    {
        ArgumentNullException.ThrowIfNull(verdict);
        return verdict.HiddenBy.Length > 0 ? $"hidden by {verdict.HiddenBy}" : InWords(verdict.Cause);
    }

    /// <summary>Returns a cause in words.</summary>
    /// <param name="cause">The cause.</param>
    public static string InWords(LimitingCause cause) => cause switch
    {
        LimitingCause.None => "warned in time",
        LimitingCause.DeadZone => "inside the dead zone",
        LimitingCause.OutsideListeningWindow => "outside the listening window",
        LimitingCause.OutOfBeam => "out of the beam",
        LimitingCause.TooWeak => "echo too weak",
        LimitingCause.Specular => "specular: the echo leaves the receiver",
        LimitingCause.OccludedByWearer => "hidden by the wearer's own body",
        LimitingCause.OccludedByObstacle => "hidden by another obstacle",
        LimitingCause.MaskedByFloor => "masked by the floor echo",
        LimitingCause.MaskedByOwnLimb => "masked by the wearer's own limb or cane",
        LimitingCause.TooLate => "heard too late",
        LimitingCause.WrongSide => "announced on the wrong side",
        LimitingCause.MeshTooCoarse => "no verdict: the mesh is too coarse for the wavelength",
        _ => cause.ToString(),
    };

    /// <summary>Returns the assumptions behind a study, each with its source or marked as assumed.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="posed">The layout on the main wearer.</param>
    public static ImmutableArray<string> Assumptions(Scenario scenario, PosedLayout posed)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(posed);
        WalkSettings walk = scenario.Walk;
        var list = ImmutableArray.CreateBuilder<string>();
        list.Add($"Walking speed {walk.SpeedMetresPerSecond:0.0#} m/s; reaction {walk.ReactionSeconds:0.0#} s; braking {walk.DecelerationMetresPerSecondSquared:0.0#} m/s². Defaults: conservative reaction and gentle stop (Tirosh and Sparrow 2004 and a 2023 motion-capture study give 0.46 to 0.57 s for an expected signal).");
        list.Add("Time needed = k reports × cycle + alert latency + reaction + v/(2a). Warning time = distance ahead of the foremost body point on the hazard's way ÷ closing speed.");
        list.Add(walk.Hold == HoldRule.DeadZone
            ? $"Reliably reported = reported in at least {walk.ReliableShare:P0} of {walk.StridePhases} stride phases at that distance and at every nearer one down to the dead zone of the nearest sensor; the share that is reported early enough but may be lost nearer in is given beside it."
            : $"Reliably reported = reported in at least {walk.ReliableShare:P0} of {walk.StridePhases} stride phases at that distance and at every nearer one down to the distance at which the wearer must already act; the stricter figure, held down to the dead zone, is given beside it.");
        list.Add("Echoes: Kirchhoff and geometrical closed forms, mean over the burst's band; a device reports the first echo above its threshold, so a floor or limb echo that comes first hides what lies behind.");
        list.AddRange(Engines(scenario));
        list.AddRange(Leaves(scenario));
        list.Add(posed.Ground is { } ground
            ? $"Ground: {ground.Name}, {ground.RoughnessRmsMetres * 1000:0.##} mm rms, 10 log µ {ground.LambertDecibels:0} dB ({ground.Confidence}; {ground.Source})."
            : "Ground: none. Nothing comes back from below: no floor echo masks an obstacle or alerts falsely, and feet and kerbs make no corner with the ground. A real walk has a floor.");
        list.Add("Absorption by ISO 9613-1, stated accuracy ±10 % in its range; measured values at 30 to 200 kHz lie up to a quarter lower (Lawrence and Simmons 1982), so ±25 % is a fair working range.");
        list.Add($"Shares of bands: of {scenario.Maps.CellMetres * 100:0.#} cm cells; of other wearers and directions, coarser ones. What a tilt or a change makes of a share is its difference on 8 cm cells, added to the share of the map.");
        list.Add("Danger of a blind zone = weight of its band (head 4, chest and waist 2, knee 1, foot 0.5: an assumption) × area of the largest circle that fits.");
        list.Add($"A sensor under cloth or hair is taken to lose {OutageStudy.CoverLossDecibels:0} dB both ways together: an assumption.");
        foreach (var sensor in scenario.Layout.Sensors.DistinctBy(s => s.Transducer.Name))
        {
            list.Add($"{sensor.Transducer.Name}: figure of merit {sensor.Transducer.LateFigureOfMeritDecibels:0} ± {sensor.Transducer.Evidence.FigureOfMeritUncertaintyDecibels:0} dB; range target {sensor.Transducer.Evidence.RangeTarget.TrimEnd('.')}; {sensor.Transducer.Evidence.Confidence.TrimEnd('.')}.");
        }

        list.AddRange(posed.MotionNotes);
        list.AddRange(posed.Body.Notes);
        return list.ToImmutable();
    }
}
