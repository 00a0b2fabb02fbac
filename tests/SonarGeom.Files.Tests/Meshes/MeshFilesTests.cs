using System.Text;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Meshes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Tests.Meshes;

public sealed class MeshFilesTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void AnObjFileIsReadWithItsMaterialsAndPolygonsAsFans()
    {
        MeshShape box = MeshSamples.Obj(MeshSamples.BoxObj, MeshSamples.Metres with { ReflectionLossDecibels = 3, Materials = [new MaterialLoss("felt", 12)] });
        Assert.Equal(12, box.FacetCount);
        Assert.Equal(["wood", "felt"], box.Materials.Select(m => m.Name));
        Assert.Equal([3, 12], box.Materials.Select(m => m.ReflectionLossDecibels));
        Assert.True(box.Cleaning.IsClosed);
        Assert.Equal(1.0, Volume(box), 12);
    }

    [Theory]
    [InlineData(LengthUnit.Metre, 1)]
    [InlineData(LengthUnit.Centimetre, 0.01)]
    [InlineData(LengthUnit.Millimetre, 0.001)]
    [InlineData(LengthUnit.Inch, 0.0254)]
    public void TheUnitScalesLengths(LengthUnit unit, double metres)
    {
        MeshShape box = MeshSamples.Obj(MeshSamples.BoxObj, MeshSamples.Metres with { Unit = unit, ScaleRatio = 2 });
        Vec3 size = box.Bounds.HighMetres - box.Bounds.LowMetres;

        // The front of a file with Z up is −Y: its X runs to the left of what faces the wearer, its Y away from the wearer.
        Assert.Equal(2 * metres * 1, size.X, 12);
        Assert.Equal(2 * metres * 2, size.Y, 12);
        Assert.Equal(2 * metres * 0.5, size.Z, 12);
    }

    [Theory]
    [InlineData(MeshAxis.Z, MeshAxis.MinusY)]
    [InlineData(MeshAxis.Z, MeshAxis.X)]
    [InlineData(MeshAxis.Y, MeshAxis.Z)]
    [InlineData(MeshAxis.Y, MeshAxis.MinusX)]
    public void AxesAreTurnedAndNeverMirrored(MeshAxis up, MeshAxis front)
    {
        MeshShape box = MeshSamples.Obj(MeshSamples.BoxObj, MeshSamples.Metres with { Up = up, Front = front });
        Assert.Equal(1.0, Volume(box), 12);
        Assert.False(box.Cleaning.WasInsideOut);
        string point = $"v 0 0 0\nv {Along(front)}\nv {Along(up)}\nf 1 2 3\n";
        MeshShape marked = MeshSamples.Obj(point, MeshSamples.Metres with { Up = up, Front = front });
        Assert.Contains(new Vec3(-1, 0, 0), marked.Whole.Vertices);
        Assert.Contains(new Vec3(0, 0, 1), marked.Whole.Vertices);

        static string Along(MeshAxis axis) => axis switch
        {
            MeshAxis.X => "1 0 0",
            MeshAxis.MinusX => "-1 0 0",
            MeshAxis.Y => "0 1 0",
            MeshAxis.MinusY => "0 -1 0",
            MeshAxis.Z => "0 0 1",
            _ => "0 0 -1",
        };
    }

    [Fact]
    public void AGlbFileIsReadAndStandsAsTheSameBoxWithZUp()
    {
        MeshShape fromGlb = MeshSamples.Read("box.glb", MeshSamples.BoxGlb(), new MeshFileOptions());
        MeshShape fromObj = MeshSamples.Obj(MeshSamples.BoxObj);
        Assert.Equal(12, fromGlb.FacetCount);
        Assert.Equal("wood", Assert.Single(fromGlb.Materials).Name);
        Assert.Equal(fromObj.Bounds, fromGlb.Bounds);
        Assert.Equal(1.0, Volume(fromGlb), 6);
    }

    [Fact]
    public void NodesPlaceAndMirrorTheirMeshesAndFacetsStayOutward()
    {
        MeshShape moved = MeshSamples.Read("box.glb", MeshSamples.BoxGlb("\"mesh\":0,\"translation\":[0,3,0],\"scale\":[-2,1,1]"), new MeshFileOptions());
        Assert.Equal(3, moved.Bounds.LowMetres.Z, 6);
        Assert.Equal(2.0, Volume(moved), 5);
        Assert.False(moved.Cleaning.WasInsideOut);
    }

    [Fact]
    public void AGltfFileMayKeepItsBytesBesideItOrWithinIt()
    {
        byte[] glb = MeshSamples.BoxGlb();
        int json = BitConverter.ToInt32(glb, 12);
        string text = Encoding.UTF8.GetString(glb, 20, json);
        byte[] bytes = glb[(20 + json + 8)..];
        _folder.Write("parts/box.bin", bytes);
        string beside = _folder.Write("beside.gltf", text.Replace("{\"byteLength\":168}", "{\"byteLength\":168,\"uri\":\"parts/box.bin\"}", StringComparison.Ordinal));
        string within = _folder.Write("within.gltf", text.Replace(
            "{\"byteLength\":168}", $"{{\"byteLength\":168,\"uri\":\"data:application/octet-stream;base64,{Convert.ToBase64String(bytes)}\"}}", StringComparison.Ordinal));
        Assert.Equal(12, MeshFiles.Read(beside, new MeshFileOptions()).FacetCount);
        Assert.Equal(12, MeshFiles.Read(within, new MeshFileOptions()).FacetCount);
        string outside = _folder.Write("outside.gltf", text.Replace("{\"byteLength\":168}", "{\"byteLength\":168,\"uri\":\"../box.bin\"}", StringComparison.Ordinal));
        Assert.Contains("beside the file", Refusal(() => MeshFiles.Read(outside, new MeshFileOptions())), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("v 0 0 0\nv 1 0 0\nv 0 nan 0\nf 1 2 3\n", ":3: nan is no finite number")]
    [InlineData("v 0 0 0\nv 1 0 0\nv 0 1e999 0\nf 1 2 3\n", ":3: 1e999 is no finite number")]
    [InlineData("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 4\n", ":4: The polygon names vertex 4; there are 3 before it.")]
    [InlineData("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 0\n", ":4: 0 is no corner")]
    [InlineData("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2 -4\n", ":4: The polygon names vertex -4; there are 3 before it.")]
    [InlineData("v 0 0 0\nv 1 0 0\nv 0 1 0\nf 1 2\n", ":4: The polygon has 2 corners; it must have at least 3.")]
    [InlineData("v 0 0 0\nv 1 0 0\nv 0 1 0\n", "The file holds no polygon (f)")]
    [InlineData("v 0 0 0\nv 1 0 0\nv 2 0 0\nf 1 2 3\n", "no facet with an area; 1 have none.")]
    [InlineData("v 0 0 0\nv 1001 0 0\nv 0 1 0\nf 1 2 3\n", "must be finite and within 1000 m")]
    [InlineData("v 0 0\n", ":1: The vertex has 2 numbers; it must have x, y and z.")]
    [InlineData("v 0 0 0\ncurv2 1 2\n", ":2: curv2 is not known here")]
    [InlineData("v 0 0 0\nv 4 0 0\nv 4 4 0\nv 3 1 0\nv 2 4 0\nv 1 1 0\nv 0 4 0\nf 1 2 3 4 5 6 7\n", ":8: The polygon is not convex")]
    public void WhatIsWrongWithAnObjFileIsToldInOneSentence(string text, string said)
    {
        string told = Refusal(() => MeshSamples.Obj(text));
        Assert.Contains(said, told, StringComparison.Ordinal);
        Assert.DoesNotContain('\n', told);
    }

    [Fact]
    public void UnitAndUpAxisOfAnObjFileMustBeStated()
    {
        Assert.Contains("give unit (m, cm, mm or in) and up_axis", Refusal(() => MeshSamples.Obj(MeshSamples.BoxObj, new MeshFileOptions { Up = MeshAxis.Z })), StringComparison.Ordinal);
        Assert.Contains("give unit (m, cm, mm or in) and up_axis", Refusal(() => MeshSamples.Obj(MeshSamples.BoxObj, new MeshFileOptions { Unit = LengthUnit.Metre })), StringComparison.Ordinal);
        Assert.Contains("must stand square", Refusal(() => MeshSamples.Obj(MeshSamples.BoxObj, MeshSamples.Metres with { Front = MeshAxis.MinusZ })), StringComparison.Ordinal);
        Assert.Contains("did you mean felt?", Refusal(() => MeshSamples.Obj(MeshSamples.BoxObj, MeshSamples.Metres with { Materials = [new MaterialLoss("fell", 2)] })), StringComparison.Ordinal);
    }

    [Fact]
    public void ANonConvexPolygonThatAFanFillsIsRead()
    {
        // An arrowhead: only the fan from its inner corner fills it.
        MeshShape arrow = MeshSamples.Obj("v 0 0 0\nv 2 1 0\nv 0 2 0\nv 1 1 0\nf 1 2 3 4\n");
        Assert.Equal(2, arrow.FacetCount);
        Assert.Equal(1.0, arrow.Materials[0].Mesh.Facets.Sum(f => Area(arrow.Materials[0].Mesh, f)), 12);
    }

    [Theory]
    [InlineData("\"mesh\":0,\"children\":[0]", "", "hangs in a circle")]
    [InlineData("\"mesh\":0,\"children\":[7]", "", "does not exist")]
    [InlineData("\"mesh\":0", ",\"extensionsRequired\":[\"KHR_draco_mesh_compression\"]", "save it without compression")]
    [InlineData("\"mesh\":0", ",\"skins\":[{\"joints\":[0]}]", "without a skin")]
    public void WhatAGltfFileMayNotSayIsToldInOneSentence(string node, string more, string said) =>
        Assert.Contains(said, Refusal(() => MeshSamples.Read("box.glb", MeshSamples.BoxGlb(node, more: more), new MeshFileOptions())), StringComparison.Ordinal);

    [Theory]
    [InlineData("\"count\":36", "\"count\":999999999", "it must be from 1 to")]
    [InlineData("\"count\":36", "\"count\":-6", "it must be from 1 to")]
    [InlineData("\"byteLength\":168", "\"byteLength\":999", "but there are 168")]
    [InlineData("\"byteLength\":72", "\"byteLength\":70", "no valid glTF")]
    [InlineData("\"POSITION\":0", "\"POSITION\":9", "no valid glTF")]
    [InlineData("\"version\":\"2.0\"", "\"version\":\"1.0\"", "no valid glTF")]
    public void AbsurdNumbersOfAGltfFileAreRefused(string from, string to, string said)
    {
        byte[] glb = MeshSamples.BoxGlb();
        int json = BitConverter.ToInt32(glb, 12);
        string text = Encoding.UTF8.GetString(glb, 20, json).Replace(from, to, StringComparison.Ordinal);
        byte[] changed = MeshSamples.Glb(Encoding.UTF8.GetBytes(text), glb[(20 + json + 8)..]);
        Assert.Contains(said, Refusal(() => MeshSamples.Read("box.glb", changed, new MeshFileOptions())), StringComparison.Ordinal);
    }

    [Fact]
    public void EveryCutOfAGlbFileIsRefused()
    {
        byte[] glb = MeshSamples.BoxGlb();
        for (int length = 1; length < glb.Length; length++)
        {
            byte[] cut = glb[..length];
            Assert.NotEmpty(Refusal(() => MeshSamples.Read("box.glb", cut, new MeshFileOptions())));
        }
    }

    [Fact]
    public void ALargeMeshIsReadAndOneTooLargeIsRefused()
    {
        // A sheet of 200 000 triangles.
        var text = new StringBuilder();
        const int Side = 317;
        for (int i = 0; i < Side; i++)
        {
            for (int j = 0; j < Side; j++)
            {
                text.Append("v ").Append(i).Append(' ').Append(j).Append(" 0\n");
            }
        }

        for (int i = 0; i + 1 < Side; i++)
        {
            for (int j = 0; j + 1 < Side; j++)
            {
                int a = (i * Side) + j + 1;
                text.Append("f ").Append(a).Append(' ').Append(a + Side).Append(' ').Append(a + Side + 1).Append(' ').Append(a + 1).Append('\n');
            }
        }

        MeshShape sheet = MeshSamples.Obj(text.ToString(), MeshSamples.Metres with { Unit = LengthUnit.Millimetre });
        Assert.Equal(2 * (Side - 1) * (Side - 1), sheet.FacetCount);
        // 2010 times the same disc of 1000 corners: 2 005 980 triangles.
        var many = new StringBuilder();
        for (int i = 0; i < 1000; i++)
        {
            (double y, double x) = Math.SinCos(2 * Math.PI * i / 1000);
            many.Append(string.Create(System.Globalization.CultureInfo.InvariantCulture, $"v {x:F6} {y:F6} 0\n"));
        }

        string disc = "f " + string.Join(' ', Enumerable.Range(1, 1000)) + "\n";
        for (int i = 0; i < 2010; i++)
        {
            many.Append(disc);
        }

        Assert.Contains("more than 2000000 triangles", Refusal(() => MeshSamples.Obj(many.ToString())), StringComparison.Ordinal);
    }

    private static string Refusal(Action read) => Assert.Single(Assert.Throws<InvalidInputException>(read).Faults).ToString();

    private static double Volume(MeshShape shape) => shape.Whole.Facets.Sum(f =>
        shape.Whole.Vertices[f.A].Dot(shape.Whole.Vertices[f.B].Cross(shape.Whole.Vertices[f.C])) / 6);

    private static double Area(TriangleMesh mesh, Facet f) =>
        0.5 * (mesh.Vertices[f.B] - mesh.Vertices[f.A]).Cross(mesh.Vertices[f.C] - mesh.Vertices[f.A]).Length;
}
