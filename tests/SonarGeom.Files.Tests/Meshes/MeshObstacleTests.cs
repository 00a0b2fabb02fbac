using SonarGeom.Echoes.Facets;
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
    public void ATableHoldsMeshesBesideOtherThings()
    {
        string path = _folder.Write("set.csv", """
            id,kind,x_m,y_m,height_m,diameter_m,yaw_deg,reflection_loss_db,file,unit,up_axis,front,scale
            a,mesh,3,0.5,,,20,2,things/box.obj,cm,z,,2
            b,mesh,4,0,,,,,things/box.glb,,,,
            c,mesh,5,0,,,,2,things/box.obj,cm,z,,2
            d,pole,6,0,2,0.1,,,,,,,
            """);
        var obstacles = InputFiles.ReadObstacles(path);
        Assert.Equal([ObstacleKind.Mesh, ObstacleKind.Mesh, ObstacleKind.Mesh, ObstacleKind.Pole], obstacles.Select(o => o.Kind));
        Assert.Equal([0.01, 0.5], obstacles.Take(2).Select(o => Math.Round(o.Bounds().HighMetres.Z, 9)));
        Assert.All(obstacles[0].Shape!.Materials, m => Assert.Equal(2, m.ReflectionLossDecibels));
        Assert.Equal(20, obstacles[0].Yaw.Degrees, 12);

        // What two rows name alike is read once.
        Assert.Same(obstacles[0].Shape, obstacles[2].Shape);
        LoadedScenario loaded = InputFiles.ReadScenario(_folder.Write("scenario.json", """{"based_on":"harbour-promenade","name":"meshes","obstacles":"set.csv"}"""));
        Assert.Equal(4, loaded.Scenario.Obstacles.Obstacles.Length);
        Assert.Contains(loaded.SourceNames, n => n.EndsWith("things/box.obj", StringComparison.Ordinal));
    }

    [Theory]
    [InlineData("mesh,3,0,,things/box.obj,,,,,", "file", "give unit (m, cm, mm or in) and up_axis (y or z)")]
    [InlineData("mesh,3,0,,,m,z,,,", "file", "file is missing; a mesh must have file")]
    [InlineData("mesh,3,0,,things/none.obj,m,z,,,", "file", "There is no such file")]
    [InlineData("mesh,3,0,,things/box.stl,m,z,,,", "file", "ends in .obj, .gltf, .glb")]
    [InlineData("mesh,3,0,,things/box.obj,ft,z,,,", "unit", "unit is ft; it must be one of m, cm, mm, in")]
    [InlineData("mesh,3,0,,things/box.obj,m,z,z,,", "file", "front axis lies along the up axis")]
    [InlineData("mesh,3,0,,things/box.obj,m,z,,0,", "scale", "scale is 0")]
    [InlineData("mesh,3,0,1.2,things/box.obj,m,z,,,", "height_m", "height_m is given, but a mesh has none")]
    [InlineData("mesh,3,0,,things/box.obj,m,z,,,5", "pitch_deg", "pitch_deg is given, but a mesh has none")]
    [InlineData("sphere,3,0,,things/box.obj,,,,,", "file", "only a mesh has one")]
    [InlineData("mesh,3,0,,../../../../../../etc/hosts.obj,m,z,,,", "file", "There is no such file")]
    public void WhatIsWrongWithAMeshInATableIsToldInOneSentence(string row, string field, string said)
    {
        string path = _folder.Write("set.csv", $"id,kind,x_m,y_m,height_m,file,unit,up_axis,front,scale,pitch_deg\na,{row}\n");
        InvalidInputException told = Assert.Throws<InvalidInputException>(() => InputFiles.ReadObstacles(path));
        Fault fault = told.Faults[0];
        Assert.Contains(told.Faults, f => f.Message.Contains(said, StringComparison.Ordinal) && f.Field == field && f.Line == 2);
        Assert.EndsWith(".", fault.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void TheEngineOfVerdictsIsReadAndClosedFormsOfAMeshAreRefused()
    {
        Assert.Equal(EngineRequest.SurfaceIntegral, Engine("surface_integral", "\"office-corridor\"").Scenario.VerdictEngines.Usual);
        Assert.Equal(EngineRequest.ClosedForm, Engine("closed_forms", "\"office-corridor\"").Scenario.VerdictEngines.Usual);
        Assert.Equal(EngineRequest.Suitable, Read("""{"id":"box","kind":"mesh","file":"things/box.glb","x_m":3,"y_m":0}""").Scenario.VerdictEngines.Usual);
        Fault fault = Assert.Single(Assert.Throws<InvalidInputException>(
            () => Engine("closed_forms", """[{"id":"box","kind":"mesh","file":"things/box.glb","x_m":3,"y_m":0}]""")).Faults);
        Assert.Equal("engine is closed_forms, but box is a mesh, which has none; it must be automatic or surface_integral.", fault.Message);
        Assert.NotNull(fault.Line);

        LoadedScenario Engine(string word, string obstacles) => InputFiles.ReadScenario(
            _folder.Write("scenario.json", $$$"""{"based_on":"harbour-promenade","name":"meshes","obstacles":{{{obstacles}}},"verdicts":{"engine":"{{{word}}}"}}"""));
    }

    [Fact]
    public void TheEngineOfOneObstacleIsReadAndWhatDoesNotFitIsTold()
    {
        EngineRequests asked = Engines("""{"obstacle":"post","engine":"surface_integral"}""").Scenario.VerdictEngines;
        Assert.Equal((EngineRequest.SurfaceIntegral, EngineRequest.Suitable), (asked.For("post"), asked.For("box")));
        Refused("""{"obstacle":"pots","engine":"surface_integral"}""", "obstacle is pots, but no obstacle of the scenario has that id.");
        Refused("""{"obstacle":"box","engine":"closed_forms"}""", "engine is closed_forms, but box is a mesh, which has none; it must be automatic or surface_integral.");
        Refused(
            """{"obstacle":"post","engine":"closed_forms"},{"obstacle":"post","engine":"surface_integral"}""",
            "obstacle is post, as in an entry before it; each obstacle may be named once.");

        void Refused(string entries, string sentence)
        {
            Fault fault = Assert.Single(Assert.Throws<InvalidInputException>(() => Engines(entries)).Faults);
            Assert.Equal(sentence, fault.Message);
            Assert.StartsWith("verdicts.engine_of[", fault.Field, StringComparison.Ordinal);
            Assert.NotNull(fault.Line);
        }

        LoadedScenario Engines(string entries) => InputFiles.ReadScenario(_folder.Write("scenario.json", $$$"""
            {"based_on":"harbour-promenade","name":"meshes","verdicts":{"engine_of":[{{{entries}}}]},"obstacles":[
            {"id":"box","kind":"mesh","file":"things/box.glb","x_m":3,"y_m":0},
            {"id":"post","kind":"pole","x_m":5,"y_m":0,"diameter_m":0.1,"height_m":2}]}
            """));
    }

    private LoadedScenario Read(string item) =>
        InputFiles.ReadScenario(_folder.Write("scenario.json", $$"""{"based_on":"harbour-promenade","name":"meshes","obstacles":[{{item}}]}"""));
}
