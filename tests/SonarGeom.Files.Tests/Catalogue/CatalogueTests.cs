using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Files.Catalogue;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Studies;

namespace SonarGeom.Files.Tests.Catalogue;

public sealed class CatalogueTests
{
    public static TheoryData<string> Scenarios => [.. ShippedCatalogue.Scenarios];

    public static TheoryData<string> Layouts => [.. ShippedCatalogue.Layouts];

    public static TheoryData<string> Wearers => [.. ShippedCatalogue.Wearers];

    public static TheoryData<string> Probes => [.. ShippedCatalogue.Probes];

    public static TheoryData<string> ObstacleSets => [.. ShippedCatalogue.ObstacleSets];

    [Theory]
    [MemberData(nameof(Scenarios))]
    public void EveryScenarioIsRead(string name)
    {
        Scenario scenario = InputFiles.ReadScenario(name).Scenario;
        Assert.NotEmpty(scenario.Description);
        Assert.True(scenario.Probes.Length >= 5);
        Assert.NotNull(scenario.Obstacles.Ground);
    }

    [Theory]
    [MemberData(nameof(Layouts))]
    public void EveryLayoutIsReadAndItsPairsMirrorEachOther(string name)
    {
        SensorLayout layout = InputFiles.ReadLayout(name);
        foreach (SensorPlacement left in layout.Sensors.Where(s => s.Announces is AnnouncedSide.Left))
        {
            Assert.Contains(layout.Sensors, right =>
                right.Announces is AnnouncedSide.Right
                && right.Mount.Azimuth.Degrees == -left.Mount.Azimuth.Degrees
                && right.Mount.Tilt == left.Mount.Tilt
                && right.Mount.OffsetMetres == left.Mount.OffsetMetres.MirroredLeftRight()
                && right.Mount.Site == left.Mount.Site.Replace("left", "right", StringComparison.Ordinal));
        }
    }

    [Theory]
    [MemberData(nameof(Wearers))]
    public void EveryWearerIsRead(string name) => Assert.NotEmpty(InputFiles.ReadWearer(name).Name);

    [Theory]
    [MemberData(nameof(Probes))]
    public void EveryProbeBearsTheNameOfItsFile(string name) => Assert.Equal(name, InputFiles.ReadProbe(name).Name);

    [Fact]
    public void TheProbesOfTheDefaultScenarioAreTheDefaults() =>
        Assert.Equal(Probe.Defaults, InputFiles.ReadScenario(ShippedCatalogue.DefaultScenario).Scenario.Probes.ToArray());

    [Theory]
    [MemberData(nameof(ObstacleSets))]
    public void EverySetHasTenToEighteenObstaclesWithTheSourceOfTheirSizes(string name)
    {
        ImmutableArray<Obstacle> obstacles = InputFiles.ReadObstacles(name);
        Assert.InRange(obstacles.Length, 10, 18);
        Assert.All(obstacles, o => Assert.NotEmpty(o.Source));
        Assert.All(obstacles, o => Assert.NotEmpty(o.Note));
    }

    [Theory]
    [MemberData(nameof(ObstacleSets))]
    public void MostObstaclesOfASetAreOnACollisionCourseWithAWearerOfUsualBreadth(string name)
    {
        const double halfBreadth = 0.25;
        ImmutableArray<Obstacle> obstacles = InputFiles.ReadObstacles(name);
        int hit = obstacles.Count(o => o.Bounds() is var b && b.LowMetres.Y < halfBreadth && b.HighMetres.Y > -halfBreadth && b.LowMetres.Z < 1.9);
        Assert.True(hit >= 0.8 * obstacles.Length, $"{hit} of {obstacles.Length}");
    }

    [Fact]
    public void TheSetsTogetherHaveEveryKindOfObstacle()
    {
        IEnumerable<ObstacleKind> kinds = ShippedCatalogue.ObstacleSets.SelectMany(s => InputFiles.ReadObstacles(s)).Select(o => o.Kind).Distinct();
        Assert.Equal(Enum.GetValues<ObstacleKind>().Where(k => k != ObstacleKind.Mesh).Order(), kinds.Order());
    }

    [Fact]
    public void TheMarketStreetHoldsMeshesOfClosedSolidsThatStandOrHangAcrossTheWay()
    {
        Obstacle[] meshes = [.. InputFiles.ReadScenario("market-street").Scenario.Obstacles.Obstacles.Where(o => o.Kind == ObstacleKind.Mesh)];
        Assert.Equal(["bench", "bicycle-rack", "open-window"], meshes.Select(o => o.Id));
        Assert.All(meshes, o => Assert.True(o.Shape!.Cleaning is { FlatFacets: 0, RepeatedFacets: 0, WasInsideOut: false, IsClosed: true }, o.Id));
        Assert.Equal([0, 0, 1.15], meshes.Select(o => Math.Round(o.Bounds().LowMetres.Z, 6)));
        Assert.Equal([0.85, 0.81, 2.25], meshes.Select(o => Math.Round(o.Bounds().HighMetres.Z, 6)));
        Assert.All(meshes, o => Assert.True(o.Bounds().LowMetres.Y < 0.2 && o.Bounds().HighMetres.Y > -0.2));
    }

    [Fact]
    public void TheHashOfAScenarioFollowsItsContentsAndNotItsPlace()
    {
        using ScratchFolder folder = new();
        StarterKit.Write(folder.At("a"));
        StarterKit.Write(folder.At("deep/er/b"));
        LoadedScenario a = InputFiles.ReadScenario(folder.At($"a/{StarterKit.MainScenario}"));
        Assert.Equal(InputFiles.ReadScenario(ShippedCatalogue.DefaultScenario).Sha256, a.Sha256);
        Assert.Equal(InputFiles.ReadScenario(folder.At($"deep/er/b/{StarterKit.MainScenario}")).Sha256, a.Sha256);
        string layout = folder.At("a/layouts/brow-chest-belt.json");
        File.AppendAllText(layout, "\n");
        Assert.NotEqual(a.Sha256, InputFiles.ReadScenario(folder.At($"a/{StarterKit.MainScenario}")).Sha256);
        Assert.Contains(layout, a.SourceNames);
    }
}
