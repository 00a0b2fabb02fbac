using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Files.Bodies;
using SonarGeom.Walks;

namespace SonarGeom.Files.Tests.Bodies;

public class RequiredMeasuresTests
{
    // What reading demands of the tables must be enough: with nothing else in them, every kind of wearer can be built and walked.
    [Fact]
    public void Nothing_that_is_not_demanded_is_needed()
    {
        BodyTables shipped = BodyTableFiles.Shipped;
        BodyTables bare = shipped with
        {
            AdultPercentiles = shipped.AdultPercentiles.Where(p => p.Key.Measure == BodyMeasure.Stature).ToImmutableDictionary(),
            AdultRegressions = shipped.AdultRegressions.Where(p => RequiredMeasures.OfAdults.Contains(p.Key.Measure)).ToImmutableDictionary(),
            ChildProportions = shipped.ChildProportions.Where(p => RequiredMeasures.OfChildren.Contains(p.Key.Measure)).ToImmutableDictionary(),
            Assumptions = shipped.Assumptions.Where(p => RequiredMeasures.Assumptions.Contains(p.Key)).ToImmutableSortedDictionary(),
            WalkingExcursions = [.. shipped.WalkingExcursions.Where(e => RequiredMeasures.Excursions.Contains(e.Quantity))],
        };
        foreach (WearerSpec spec in new WearerSpec[]
        {
            new(),
            new() { Sex = Sex.Female, AgeYears = 80, CaneSide = BodySide.Left },
            new() { Sex = Sex.Female, WaistGirthMetres = 0.9 },
            new() { AgeYears = 9 },
            new() { AgeYears = 12, WaistGirthMetres = 0.7 },
            new() { Wheelchair = WheelchairKind.Powered },
        })
        {
            SwayEnvelope.Of(Body.Build(spec, bare), 0.8).PoseAt(0.2);
            Gait.Of(Body.Build(spec, bare), 0.8, CaneTechnique.TwoPointTouch).PoseAt(0.2);
        }
    }
}
