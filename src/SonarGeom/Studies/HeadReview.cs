using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Studies;

/// <summary>How one wearer fares at head height.</summary>
/// <param name="Role">Why this wearer is looked at: shortest, tallest, head bowed.</param>
/// <param name="Wearer">Name of the wearer.</param>
/// <param name="StatureMetres">Stature without footwear. [m]</param>
/// <param name="BandLowMetres">Lower edge of the head band. [m]</param>
/// <param name="BandHighMetres">Upper edge of the head band. [m]</param>
/// <param name="Maps">Head-band approach maps, one for each probe.</param>
/// <param name="Zones">Head-band blind zones of all maps, worst first.</param>
/// <param name="Hazards">Verdicts on the obstacles that reach into the head band.</param>
public sealed record HeadReviewCase(
    string Role,
    string Wearer,
    double StatureMetres,
    double BandLowMetres,
    double BandHighMetres,
    ImmutableArray<ApproachMap> Maps,
    ImmutableArray<BlindZone> Zones,
    ImmutableArray<ObstacleVerdict> Hazards);

/// <summary>A line of the review: one hazard or one blind zone on one wearer, worst first.</summary>
/// <param name="Rank">Rank from 1.</param>
/// <param name="Role">The wearer's role.</param>
/// <param name="Subject">The hazard or zone.</param>
/// <param name="Sentence">The finding in words.</param>
/// <param name="DangerUnitless">Rank figure: larger is worse. [unitless]</param>
public sealed record HeadReviewFinding(int Rank, string Role, string Subject, string Sentence, double DangerUnitless);

/// <summary>The head-height review: the shortest, the tallest and a head-bowed wearer against the hazards that hang there.</summary>
/// <param name="Scenario">The scenario.</param>
/// <param name="Cases">The wearers.</param>
/// <param name="Findings">What is wrong, worst first.</param>
/// <param name="Assumptions">The assumptions.</param>
public sealed record HeadReview(
    Scenario Scenario, ImmutableArray<HeadReviewCase> Cases, ImmutableArray<HeadReviewFinding> Findings, ImmutableArray<string> Assumptions)
{
    // Head-down angle of the bowed wearer: the upper end of the range assumed for blind walkers (0 to 25°).
    private const double BowedDegrees = 25;

    /// <summary>Runs the review.</summary>
    /// <param name="scenario">The scenario; its wearers supply the shortest and the tallest.</param>
    /// <param name="resources">The body tables.</param>
    /// <param name="progress">Told of each stage; may be null.</param>
    /// <param name="cancellation">Stops the work.</param>
    public static HeadReview Run(
        Scenario scenario, StudyResources resources, IProgress<StudyProgress>? progress = null, CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(scenario);
        ArgumentNullException.ThrowIfNull(resources);
        var bodies = scenario.Wearers.Select(w => (Spec: w, Body.Build(w, resources.Tables).CrownHeightMetres)).ToList();
        WearerSpec shortest = bodies.MinBy(b => b.CrownHeightMetres).Spec, tallest = bodies.MaxBy(b => b.CrownHeightMetres).Spec;
        WearerSpec bowed = scenario.MainWearer with
        {
            Name = $"{scenario.MainWearer.Name}, head bowed {BowedDegrees:0}°",
            Posture = Posture.HeadBowed(Angle.FromDegrees(BowedDegrees)),
        };
        (string Role, WearerSpec Spec)[] roles = [("shortest", shortest), ("tallest", tallest), ("head bowed", bowed)];
        var cases = ImmutableArray.CreateBuilder<HeadReviewCase>();
        for (int i = 0; i < roles.Length; i++)
        {
            progress?.Report(new($"head height, {roles[i].Role} wearer", (double)i / roles.Length));
            cases.Add(CaseOf(scenario, resources, roles[i].Role, roles[i].Spec, cancellation));
        }

        PosedLayout main = ScenarioStudy.Pose(scenario, scenario.MainWearer, resources.Tables);
        progress?.Report(new("done", 1));
        return new HeadReview(scenario, cases.ToImmutable(), Rank(cases), Studies.Findings.Assumptions(scenario, main));
    }

    private static HeadReviewCase CaseOf(Scenario scenario, StudyResources resources, string role, WearerSpec spec, CancellationToken cancellation)
    {
        PosedLayout posed = ScenarioStudy.Pose(scenario, spec, resources.Tables);
        var mapper = new ApproachMapper(posed, scenario.Walk, scenario.Maps);
        ImmutableArray<ApproachMap> maps = [.. scenario.Probes.Select(p => mapper.Map(p, HeightBand.Head, cancellation))];
        double low = posed.BandLowMetres(HeightBand.Head), high = posed.BandHighMetres(HeightBand.Head);
        ObstacleSet hanging = scenario.Obstacles with { Obstacles = [.. scenario.Obstacles.Obstacles.Where(o => Reaches(o, low, high))] };
        ImmutableArray<ObstacleVerdict> hazards =
            hanging.Obstacles.IsEmpty ? [] : VerdictBoard.Of(posed, scenario.Walk, scenario.Maps, hanging, scenario.VerdictEngines, cancellation).Verdicts();
        return new HeadReviewCase(
            role, spec.Name, posed.Body.Dimensions.StatureMetres, low, high, maps,
            [.. maps.SelectMany(m => BlindZoneFinder.Find(m)).OrderByDescending(z => z.DangerSquareMetres)], hazards);
    }

    private static bool Reaches(Obstacle obstacle, double low, double high)
    {
        BoundingBox bounds = obstacle.Bounds();
        return bounds.HighMetres.Z > low && bounds.LowMetres.Z < high;
    }

    // Hazards that hit the head come first, by how little warning is left; then the blind zones by the circle that fits.
    private static ImmutableArray<HeadReviewFinding> Rank(IEnumerable<HeadReviewCase> cases)
    {
        var findings = new List<HeadReviewFinding>();
        foreach (HeadReviewCase c in cases)
        {
            foreach (ObstacleVerdict v in c.Hazards.Where(v => v.IsDanger))
            {
                double short_ = Math.Clamp(1 - (v.WarningSeconds / v.TimeNeededSeconds), 0, 1);
                findings.Add(new(
                    0, c.Role, v.Obstacle.Id,
                    $"{v.Obstacle.Id} meets the {c.Role} wearer at {v.HighBand.ToString().ToLowerInvariant()} height with {(v.WarningSeconds > 0 ? $"{v.WarningSeconds:0.0} s of" : "no reliable")} warning; "
                    + $"{v.TimeNeededSeconds:0.0} s are needed: {Studies.Findings.InWords(v)}.",
                    10 + short_));
            }

            foreach (IGrouping<string, BlindZone> zones in c.Zones.GroupBy(z => z.ProbeName))
            {
                BlindZone z = zones.First();
                double share = c.Maps.First(m => m.Probe.Name == zones.Key).ShareOf(HeightBand.Head).WarnedFraction;
                findings.Add(new(
                    0, c.Role, z.Name,
                    $"On the {c.Role} wearer {1 - share:P0} of the head band is not warned in time for {z.ProbeName}; the largest gap, "
                    + $"{z.Name}, lets a circle of {z.InscribedDiameterMetres * 100:0} cm through: {Studies.Findings.InWords(z.Cause)}.",
                    z.DangerSquareMetres));
            }
        }

        return [.. findings.OrderByDescending(f => f.DangerUnitless).ThenBy(f => f.Role, StringComparer.Ordinal).ThenBy(f => f.Subject, StringComparer.Ordinal)
            .Select((f, i) => f with { Rank = i + 1 })];
    }
}
