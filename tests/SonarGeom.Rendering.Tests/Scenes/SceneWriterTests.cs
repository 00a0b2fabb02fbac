using System.Numerics;
using SharpGLTF.Schema2;
using SharpGLTF.Validation;
using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Scenes;

namespace SonarGeom.Rendering.Tests.Scenes;

public class SceneWriterTests
{
    private static readonly Lazy<ModelRoot> Street = new(() => Read(SceneWriter.Glb(ExampleScenes.Street())));

    [Fact]
    public void The_same_scene_gives_the_same_bytes() =>
        Assert.Equal(SceneWriter.Glb(ExampleScenes.Street()), SceneWriter.Glb(ExampleScenes.Street()));

    [Fact]
    public void Names_and_facts_are_on_the_nodes_in_order()
    {
        Node[] top = [.. Street.Value.DefaultScene.VisualChildren];
        Assert.Equal(
            ["ground", "wearer", "sensors", "obstacles", "scale bar, 1 m", "silhouette", "chest sensor: just detected", "blind zone: head", "from ahead"],
            top.Select(n => n.Name));
        Node sensor = Assert.Single(top[2].VisualChildren);
        Assert.Equal("chest sensor", sensor.Name);
        Assert.Equal("8", sensor.Extras["tilt (°)"]!.GetValue<string>());
        Assert.Equal(["can", "boresight"], sensor.VisualChildren.Select(n => n.Name));
    }

    [Fact]
    public void The_frame_is_turned_and_not_mirrored()
    {
        // World 3 m ahead, 0.4 m left, 2.4 m up is glTF (left, up, ahead).
        Node pole = Street.Value.LogicalNodes.Single(n => n.Name == "pole: caught");
        Vector3[] positions = [.. pole.Mesh.Primitives[0].GetVertexAccessor("POSITION").AsVector3Array()];
        Assert.Equal(0.4f, 0.5f * (positions.Min(p => p.X) + positions.Max(p => p.X)), 5);
        Assert.Equal(2.4f, positions.Max(p => p.Y), 5);
        Assert.Equal(3f, 0.5f * (positions.Min(p => p.Z) + positions.Max(p => p.Z)), 5);
        Assert.Equal(Vector3.UnitZ, GltfAxes.FromWorld(Vec3.UnitX));
        Vector3 turned = Vector3.Cross(GltfAxes.FromWorld(Vec3.UnitX), GltfAxes.FromWorld(Vec3.UnitY));
        Assert.Equal(GltfAxes.FromWorld(Vec3.UnitZ), turned);
        Assert.Equal(new Vec3(1, 2, 3), GltfAxes.ToWorld(GltfAxes.FromWorld(new Vec3(1, 2, 3))));
    }

    [Fact]
    public void Closed_surfaces_keep_their_volume_and_their_normals_point_outwards()
    {
        Node head = Street.Value.LogicalNodes.Single(n => n.Name == "head");
        MeshPrimitive primitive = head.Mesh.Primitives[0];
        Vector3[] positions = [.. primitive.GetVertexAccessor("POSITION").AsVector3Array()];
        Vector3[] normals = [.. primitive.GetVertexAccessor("NORMAL").AsVector3Array()];
        double volume = 0;
        foreach ((int a, int b, int c) in primitive.GetTriangleIndices())
        {
            volume += Vector3.Dot(positions[a], Vector3.Cross(positions[b], positions[c])) / 6.0;
        }

        // 24 by 12 pieces of a sphere of radius 0.11 m fill about 96 % of it.
        Assert.InRange(volume / (4 * Math.PI / 3 * Math.Pow(0.11, 3)), 0.93, 1.0);
        var centre = new Vector3(0, 1.74f, 0.02f);
        for (int i = 0; i < positions.Length; i++)
        {
            Assert.Equal(1, normals[i].Length(), 4);
            Assert.True(Vector3.Dot(Vector3.Normalize(positions[i] - centre), normals[i]) > 0.97, $"vertex {i}");
        }

        // Smoothed: every place has one vertex.
        Assert.Equal(positions.Length, positions.Distinct().Count());
    }

    [Fact]
    public void A_box_keeps_its_sharp_edges()
    {
        Node box = Street.Value.LogicalNodes.Single(n => n.Name == "box: missed");
        MeshPrimitive primitive = box.Mesh.Primitives[0];
        Assert.Equal(24, primitive.GetVertexAccessor("POSITION").Count);
        Assert.All(
            primitive.GetVertexAccessor("NORMAL").AsVector3Array(),
            n => Assert.Equal(1, Math.Max(Math.Abs(n.X), Math.Max(Math.Abs(n.Y), Math.Abs(n.Z))), 5));
    }

    [Fact]
    public void Translucent_surfaces_blend_and_show_both_sides()
    {
        Material zone = Street.Value.LogicalNodes.Single(n => n.Name == "blind zone: head").Mesh.Primitives[0].Material;
        Assert.Equal(AlphaMode.BLEND, zone.Alpha);
        Assert.True(zone.DoubleSided);
        Assert.Equal(90 / 255f, zone.FindChannel("BaseColor")!.Value.Color.W, 5);
        Material pole = Street.Value.LogicalNodes.Single(n => n.Name == "pole: caught").Mesh.Primitives[0].Material;
        Assert.Equal(AlphaMode.OPAQUE, pole.Alpha);
        Assert.False(pole.DoubleSided);
    }

    [Fact]
    public void Lines_are_line_primitives()
    {
        MeshPrimitive lines = Street.Value.LogicalNodes.Single(n => n.Name == "silhouette").Mesh.Primitives[0];
        Assert.Equal(PrimitiveType.LINES, lines.DrawPrimitiveType);
        Assert.Equal(3, lines.GetLineIndices().Count());
        Assert.True(lines.Material.Unlit);
    }

    [Fact]
    public void The_camera_looks_at_its_target()
    {
        Node camera = Street.Value.LogicalNodes.Single(n => n.Camera is not null);
        Matrix4x4 m = camera.WorldMatrix;
        var looks = new Vector3(-m.M31, -m.M32, -m.M33);
        var wanted = Vector3.Normalize(GltfAxes.FromWorld(new Vec3(1, 0, 1) - new Vec3(6, 3, 2.2)));
        Assert.True(Vector3.Dot(looks, wanted) > 0.99999f);
        Assert.True(m.M22 > 0.9f);
    }

    [Fact]
    public void Degenerate_facets_are_left_out_and_an_empty_scene_is_refused()
    {
        var flat = new TriangleMesh([new(0, 0, 0), new(1, 0, 0), new(2, 0, 0), new(0, 1, 0)], [new(0, 1, 2), new(0, 1, 3), new(1, 1, 3)]);
        ModelRoot model = Read(SceneWriter.Glb(new("flat", [new SceneSurface("flat", flat, Colour.Ink)])));
        Assert.Single(model.LogicalMeshes[0].Primitives[0].GetTriangleIndices());
        var none = new TriangleMesh([], []);
        Assert.Throws<ArgumentException>(() => SceneWriter.Glb(new("none", [new SceneSurface("none", none, Colour.Ink)])));
    }

    [Fact]
    public void A_camera_straight_above_is_refused() =>
        Assert.Throws<ArgumentException>(() => SceneWriter.Glb(ExampleScenes.Street() with
        {
            Cameras = [("above", new(new(0, 0, 5), new(0, 0, 0), Angle.FromDegrees(40)))],
        }));

    // A can that goes ahead, rises and turns left by 90°: the second moment in a viewer is that of the world.
    [Fact]
    public void What_moves_is_where_and_how_the_keys_say()
    {
        var turned = new RigidTransform(Rotation.AboutZ(Angle.FromDegrees(90)), new Vec3(1, 0.5, 2));
        var scene = new SceneDocument("moving", [new SceneMotion(
            "can", new SceneSurface("can: body", SceneShapes.Cylinder(Vec3.Zero, Vec3.UnitX, 0.1), Colour.Ink),
            [new SceneKey(0, new RigidTransform(Rotation.Identity, Vec3.Zero)), new SceneKey(2, turned)])])
        { MotionName = "turn" };
        ModelRoot model = Read(SceneWriter.Glb(scene));
        Animation animation = Assert.Single(model.LogicalAnimations);
        Assert.Equal(("turn", 2f), (animation.Name, animation.Duration));
        Node can = model.LogicalNodes.Single(n => n.Name == "can");
        Matrix4x4 at = can.GetWorldMatrix(animation, 2);
        foreach (Vec3 point in new[] { Vec3.Zero, Vec3.UnitX, Vec3.UnitY, Vec3.UnitZ })
        {
            Vector3 moved = Vector3.Transform(GltfAxes.FromWorld(point), at);
            Assert.Equal(0, Vector3.Distance(GltfAxes.FromWorld(turned.ApplyToPoint(point)), moved), 1e-5);
        }

        Assert.Throws<ArgumentException>(() => SceneWriter.Glb(scene with { Items = [((SceneMotion)scene.Items[0]) with { Keys = [] }] }));
    }

    private static ModelRoot Read(byte[] glb)
    {
        using var stream = new MemoryStream(glb);
        return ModelRoot.ReadGLB(stream, new ReadSettings { Validation = ValidationMode.Strict });
    }
}
