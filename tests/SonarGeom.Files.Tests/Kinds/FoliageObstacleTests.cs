using SonarGeom.Files.Faults;
using SonarGeom.Files.Tables;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Tests.Kinds;

/// <summary>Hedges and branches in scenarios and tables.</summary>
public sealed class FoliageObstacleTests : IDisposable
{
    private const string Branch =
        """{"id":"a","kind":"foliage","form":"ellipsoid","x_m":3,"y_m":0.2,"z_m":1.5,"width_m":1.2,"height_m":0.6,"depth_m":1,"leaf_radius_mm":40,"leaves_per_m3":400,"reflection_loss_db":0.5}""";

    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void ABranchIsReadWithItsLeaves()
    {
        Obstacle branch = Assert.Single(Read(Branch).Scenario.Obstacles.Obstacles);
        Assert.Equal((ObstacleKind.Foliage, FoliageForm.Ellipsoid, 0.04, 400.0), (branch.Kind, branch.FoliageForm, branch.LeafRadiusMetres, branch.LeavesPerCubicMetre));
        Assert.Equal((1.5, 2.1), (Math.Round(branch.Bounds().LowMetres.Z, 9), Math.Round(branch.Bounds().HighMetres.Z, 9)));
    }

    [Theory]
    [InlineData("\"form\":\"ellipsoid\",", "", "form is missing; a foliage must have width_m, height_m, depth_m, form, leaf_radius_mm, leaves_per_m3.")]
    [InlineData("ellipsoid", "cone", "form is \"cone\"; it must be one of ellipsoid, box")]
    [InlineData("\"leaf_radius_mm\":40", "\"leaf_radius_mm\":2", "from 5 to 150")]
    [InlineData("\"leaves_per_m3\":400", "\"leaves_per_m3\":0", "above 0")]
    [InlineData("\"leaves_per_m3\":400", "\"leaves_per_m3\":6000", "for leaves of that radius, at most 4974")]
    [InlineData("\"leaves_per_m3\":400", "\"leaves_per_m3\":2", "it must be from 10 to 1000000")]
    [InlineData("\"height_m\":0.6", "\"height_m\":0.06", "at most half of the smallest size, 0.03 m")]
    [InlineData("\"height_m\":0.6", "\"height_m\":0.6,\"diameter_m\":1", "diameter_m is given, but a foliage has none")]
    [InlineData("\"reflection_loss_db\":0.5", "\"roughness_mm\":3", "roughness, which leaves do not have")]
    [InlineData("foliage", "foilage", "did you mean foliage?")]
    public void WhatIsWrongIsToldWhereItStands(string what, string instead, string said)
    {
        InvalidInputException told = Assert.Throws<InvalidInputException>(() => Read(Branch.Replace(what, instead, StringComparison.Ordinal)));
        Fault fault = Assert.Single(told.Faults);
        Assert.Contains(said, fault.Message, StringComparison.Ordinal);
        Assert.NotNull(fault.Line);
    }

    [Fact]
    public void OnlyFoliageHasLeaves()
    {
        const string Pole = """{"id":"a","kind":"pole","x_m":3,"y_m":0,"height_m":2,"diameter_m":0.1,"leaf_radius_mm":20}""";
        InvalidInputException told = Assert.Throws<InvalidInputException>(() => Read(Pole));
        Assert.Contains("leaf_radius_mm is given, but a pole has none", Assert.Single(told.Faults).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void ATableOfFoliageReadsBackAsTheSame()
    {
        Obstacle hedge = Obstacle.Foliage("hedge", new(4, 0.5, 0), FoliageForm.Box, 0.6, 2, 1.6, 0.018, 5000) with { Note = "n", Source = "s", ReflectionLossDecibels = 0.5 };
        using (FileStream stream = File.Create(_folder.At("set.csv")))
        {
            ObstacleTable.Write(stream, [hedge]);
        }

        Obstacle read = Assert.Single(ObstacleTable.Read(_folder.At("set.csv")));
        Assert.Equal(hedge with { LeafRadiusMetres = read.LeafRadiusMetres }, read);
        Assert.Equal(0.018, read.LeafRadiusMetres, 1e-15);
    }

    private LoadedScenario Read(string item)
    {
        string path = _folder.Write("street.json", $$"""
            {
              "based_on": "harbour-promenade",
              "name": "street",
              "obstacles": [
                {{item}}
              ]
            }
            """);
        return InputFiles.ReadScenario(path);
    }
}
