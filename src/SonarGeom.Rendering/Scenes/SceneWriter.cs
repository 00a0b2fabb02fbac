using System.Numerics;
using System.Text.Json.Nodes;
using SharpGLTF.Schema2;
using SharpGLTF.Validation;
using SonarGeom.Geometry;

namespace SonarGeom.Rendering.Scenes;

/// <summary>Turns scenes into binary glTF 2.0 files. The same scene always gives the same bytes.</summary>
public static class SceneWriter
{
    private const float NearestMetres = 0.05f;

    /// <summary>Returns the scene as a binary glTF file.</summary>
    /// <param name="scene">The scene.</param>
    /// <exception cref="ArgumentException">Nothing in the scene can be drawn, or a camera looks straight up or down.</exception>
    public static byte[] Glb(SceneDocument scene)
    {
        ArgumentNullException.ThrowIfNull(scene);
        var model = ModelRoot.CreateModel();
        model.Asset.Generator = "SonarGeom";
        Scene root = model.UseScene(scene.Name);
        model.DefaultScene = root;
        var meshes = new GltfMeshWriter(model);
        var motions = new MotionWriter(model, scene.MotionName);
        int drawn = scene.Items.Count(item => Add(item, name => root.CreateNode(name), meshes, motions));
        if (drawn == 0)
        {
            throw new ArgumentException($"Nothing in the scene \"{scene.Name}\" can be drawn.", nameof(scene));
        }

        foreach ((string name, SceneCamera camera) in scene.Cameras)
        {
            AddCamera(model, root, name, camera);
        }

        model.MergeBuffers();
        using var stream = new MemoryStream();

        // The library's own check takes several times as long as everything else; the tests read files back with it instead.
        model.WriteGLB(stream, new WriteSettings { JsonIndented = false, Validation = ValidationMode.Skip });
        return stream.ToArray();
    }

    /// <summary>Adds an item below a place; false when it has nothing to draw and was left out.</summary>
    private static bool Add(SceneItem item, Func<string, Node> createNode, IGltfMeshWriter meshes, MotionWriter motions)
    {
        if (item is SceneMotion motion)
        {
            // What moves stands in its own frame below a node that is moved.
            Node? moved = null;
            if (!Add(motion.Item, name => (moved ??= Describe(createNode(motion.Name), motion)).CreateNode(name), meshes, motions))
            {
                return false;
            }

            motions.Add(moved!, motion.Keys);
            return true;
        }

        if (item is SceneGroup group)
        {
            Node? node = null;
            foreach (SceneItem child in group.Items)
            {
                // The node is made when the first thing is to be drawn below it.
                Add(child, name => (node ??= Describe(createNode(group.Name), group)).CreateNode(name), meshes, motions);
            }

            return node is not null;
        }

        Mesh? mesh = item switch
        {
            SceneSurface surface => meshes.AddSurface(surface),
            SceneLines lines => meshes.AddLines(lines.Name, lines.Lines, lines.Colour),
            _ => throw new ArgumentException($"A scene has no way to draw {item.GetType().Name}.", nameof(item)),
        };
        if (mesh is null)
        {
            return false;
        }

        Describe(createNode(item.Name), item).Mesh = mesh;
        return true;
    }

    private static Node Describe(Node node, SceneItem item)
    {
        if (item.Facts.Length > 0)
        {
            var facts = new JsonObject();
            foreach (SceneFact fact in item.Facts)
            {
                facts[fact.Key] = JsonValue.Create(fact.Value);
            }

            node.Extras = facts;
        }

        return node;
    }

    private static void AddCamera(ModelRoot model, Scene root, string name, SceneCamera camera)
    {
        // A glTF camera looks along its own −Z with Y up.
        Vec3 back = (camera.Eye - camera.Target).Normalized();
        Vec3 right = Vec3.UnitZ.Cross(back);
        if (!(right.Length > 1e-6))
        {
            throw new ArgumentException($"Camera \"{name}\" must not look straight up or down, and its target must lie apart.");
        }

        right = right.Normalized();
        Vec3 up = back.Cross(right);
        Vector3 r = GltfAxes.FromWorld(right);
        Vector3 u = GltfAxes.FromWorld(up);
        Vector3 b = GltfAxes.FromWorld(back);
        var rotation = Quaternion.CreateFromRotationMatrix(
            new Matrix4x4(r.X, r.Y, r.Z, 0, u.X, u.Y, u.Z, 0, b.X, b.Y, b.Z, 0, 0, 0, 0, 1));
        Node node = root.CreateNode(name);
        node.LocalTransform = new SharpGLTF.Transforms.AffineTransform(
            null, Quaternion.Normalize(rotation), GltfAxes.FromWorld(camera.Eye));
        Camera lens = model.CreateCamera(name);
        lens.SetPerspectiveMode(
            null, (float)camera.VerticalFieldOfView.Radians, NearestMetres, 100);
        node.Camera = lens;
    }
}
