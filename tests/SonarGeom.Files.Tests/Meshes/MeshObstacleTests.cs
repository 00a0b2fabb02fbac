using SonarGeom.Files.Faults;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Tests.Meshes;

/// <summary>Scenarios whose obstacles are given by mesh files.</summary>
public sealed class MeshObstacleTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public MeshObstacleTests()
    {
        _folder.Write("things/box.obj", MeshSamples.BoxObj);
        _folder.Write("things/box.glb", MeshSamples.BoxGlb());
    }

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void AnObjFileIsReadFromAScenarioWithUnitAxisPlaceTurnAndMaterials()
    {
        LoadedScenario loaded = Read("""{"id":"box","kind":"mesh","file":"things/box.obj","unit":"cm","up_axis":"z","x_m":3,"y_m":0.5,"yaw_deg":20,"reflection_loss_db":1,"materials":[{"material":"felt","reflection_loss_db":9}]}""");
        Obstacle box = Assert.Single(loaded.Scenario.Obstacles.Obstacles);
        Assert.Equal((ObstacleKind.Mesh, "box.obj"), (box.Kind, box.Shape!.Name));
        Assert.Equal(20, box.Yaw.Degrees, 12);
        Assert.Equal([1, 9], box.Shape.Materials.Select(m => m.ReflectionLossDecibels));
        Assert.Equal(0.005, box.Bounds().HighMetres.Z, 9);
        Assert.Contains(loaded.SourceNames, n => n.EndsWith("things/box.obj", StringComparison.Ordinal));
    }

    [Fact]
    public void TheMeshIsPartOfTheHashOfTheScenario()
    {
        const string Item = """{"id":"box","kind":"mesh","file":"things/box.obj","unit":"m","up_axis":"z","x_m":3,"y_m":0}""";
        string before = Read(Item).Sha256;
        _folder.Write("things/box.obj", MeshSamples.BoxObj.Replace("v 0 0 0.5", "v 0 0 0.6", StringComparison.Ordinal));
        Assert.NotEqual(before, Read(Item).Sha256);
    }

    [Fact]
    public void AGlbFileStatesItsUnitAndAxisItself() =>
        Assert.Equal(0.5, Read("""{"id":"box","kind":"mesh","file":"things/box.glb","x_m":3,"y_m":0}""").Scenario.Obstacles.Obstacles[0].Bounds().HighMetres.Z, 6);

    [Theory]
    [InlineData("""{"id":"a","kind":"mesh","file":"things/box.obj","x_m":3,"y_m":0}""", "give unit (m, cm, mm or in) and up_axis")]
    [InlineData("""{"id":"a","kind":"mesh","file":"things/none.obj","unit":"m","up_axis":"z","x_m":3,"y_m":0}""", "There is no such file")]
    [InlineData("""{"id":"a","kind":"mesh","file":"things/box.stl","x_m":3,"y_m":0}""", "ends in .obj, .gltf, .glb")]
    [InlineData("""{"id":"a","kind":"mesh","file":"things/box.obj","unit":"ft","up_axis":"z","x_m":3,"y_m":0}""", "unit is \"ft\"; it must be one of m, cm, mm, in")]
    [InlineData("""{"id":"a","kind":"mesh","file":"things/box.obj","unit":"m","up_axis":"x","x_m":3,"y_m":0}""", "up_axis is \"x\"; it must be one of y, z")]
    [InlineData("""{"id":"a","kind":"mesh","file":"things/box.obj","unit":"m","up_axis":"z","x_m":3,"y_m":0,"pitch_deg":4}""", "pitch_deg is not known")]
    [InlineData("""{"id":"a","kind":"mesh","file":"things/box.obj","unit":"m","up_axis":"z","x_m":3,"y_m":0,"materials":[{"material":"fell","reflection_loss_db":9}]}""", "did you mean felt?")]
    [InlineData("""{"id":"a","kind":"mash","x_m":3,"y_m":0}""", "did you mean mesh?")]
    public void WhatIsWrongIsToldWhereItStands(string item, string said)
    {
        InvalidInputException told = Assert.Throws<InvalidInputException>(() => Read(item));
        Fault fault = Assert.Single(told.Faults);
        Assert.Contains(said, fault.Message, StringComparison.Ordinal);
        Assert.NotNull(fault.Line);
    }

    [Fact]
    public void CheckTellsWhatAMeshHolds()
    {
        CheckedFile file = InputFiles.Check(_folder.At("things/box.obj"));
        Assert.Equal("mesh", file.Kind);
        Assert.Equal("12 triangles, 2 x 1 x 0.5 along x, y, z in the file's own unit, closed, materials wood, felt", file.Summary);
    }

    [Fact]
    public void ATableHoldsNoMesh()
    {
        string path = _folder.Write("set.csv", "id,kind,x_m,y_m\na,mesh,3,0\n");
        Assert.Contains("kind is mesh", Assert.Throws<InvalidInputException>(() => InputFiles.ReadObstacles(path)).Faults[0].Message, StringComparison.Ordinal);
    }

    private LoadedScenario Read(string item) =>
        InputFiles.ReadScenario(_folder.Write("scenario.json", $$"""{"based_on":"harbour-promenade","name":"meshes","obstacles":[{{item}}]}"""));
}
