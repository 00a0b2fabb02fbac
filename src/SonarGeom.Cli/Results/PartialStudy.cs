using SonarGeom.Air;
using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>A study of which only one map or slice was computed: pictures are drawn from it, nothing is concluded.</summary>
internal static class PartialStudy
{
    /// <summary>Returns the study without any result.</summary>
    /// <param name="scenario">The scenario.</param>
    /// <param name="wearer">The wearer.</param>
    /// <param name="posed">The layout on that wearer.</param>
    internal static StudyReport Of(Scenario scenario, WearerSpec wearer, PosedLayout posed) => new()
    {
        Scenario = scenario.With(wearers: [wearer]),
        Air = AirProperties.Of(scenario.Air, scenario.Layout.Sensors[0].Transducer.NominalFrequency, scenario.SoundSpeedModel),
        Posed = posed,
        TimeNeededSeconds = StoppingModel.TimeNeededSeconds(scenario.Walk, scenario.Layout.Firing),
        Maps = [],
        PoleStrips = [],
        BlindZones = [],
        Slices = [],
        Verdicts = [],
        Changes = System.Collections.Immutable.ImmutableSortedDictionary<string, SmallestChange>.Empty,
        Wearers = [],
        TiltCurves = [],
        Azimuths = [],
        Turning = [],
        Outages = [],
        SelfEchoes = [],
        Firing = FiringStudy.Of(posed),
        Requirements = [],
        WorstFinding = string.Empty,
        Assumptions = Findings.Assumptions(scenario, posed),
    };
}
