using System.Numerics;
using System.Text.Json;
using SharpGLTF.Schema2;
using SharpGLTF.Validation;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Meshes;

/// <summary>Reads the triangles of glTF 2.0, in text or binary form, with their materials' names.</summary>
/// <remarks>Only the geometry is handed to the library (see <see cref="GltfGeometry"/>), which checks it strictly.</remarks>
internal static class GltfReader
{
    private const string ModelName = "model.gltf";

    /// <summary>Reads a file.</summary>
    /// <param name="file">The file.</param>
    /// <param name="neighbour">Reads a file that this one names.</param>
    /// <exception cref="InvalidInputException">The file is damaged, or says something that cannot be read.</exception>
    internal static RawMesh Read(InputText file, Func<string, InputText> neighbour)
    {
        try
        {
            GltfContainer container = GltfContainer.Of(file);
            using JsonDocument json = container.Json;
            var geometry = GltfGeometry.Of(file.Name, json.RootElement, container.Binary, neighbour);
            var context = ReadContext.Create(name => name == ModelName ? geometry.Json : geometry.Buffers[name]);
            context.Validation = ValidationMode.Strict;
            ModelRoot model = context.ReadSchema2(ModelName);
            return Collected(file.Name, model);
        }
        catch (InvalidInputException)
        {
            throw;
        }
        catch (Exception e) when (e is not (OutOfMemoryException or ThreadInterruptedException))
        {
            // Whatever the library says of a damaged file; it has no one kind of exception for it.
            throw new InvalidInputException(file.Name, $"The file is no valid glTF: {Sentence(e)}");
        }
    }

    private static string Sentence(Exception e)
    {
        bool isOfFormat = e is ModelException or JsonException or InvalidDataException;
        string message = isOfFormat ? PlacedValue.Short(e.Message.Split('\n')[0].Trim(), 160).TrimEnd('.') : string.Empty;
        return message.Length > 0 && !message.Contains("Exception", StringComparison.Ordinal)
            ? $"{message}."
            : "a number in it leads out of what the file holds.";
    }

    private static RawMesh Collected(string fileName, ModelRoot model)
    {
        var mesh = new RawMesh(fileName);
        Scene? scene = model.DefaultScene ?? (model.LogicalScenes.Count > 0 ? model.LogicalScenes[0] : null);
        IEnumerable<Node> nodes = scene is null ? model.LogicalNodes : Node.Flatten(scene);
        foreach (Node node in nodes.Where(n => n.Mesh is not null))
        {
            Matrix4x4 worldFromNode = node.WorldMatrix;
            foreach (MeshPrimitive primitive in node.Mesh.Primitives)
            {
                Add(mesh, fileName, primitive, worldFromNode);
            }
        }

        return mesh.FacetCount > 0
            ? mesh
            : throw new InvalidInputException(fileName, "The scene of the file holds no triangle; it must have at least one.");
    }

    private static void Add(RawMesh mesh, string fileName, MeshPrimitive primitive, Matrix4x4 worldFromNode)
    {
        if (primitive.DrawPrimitiveType is PrimitiveType.POINTS or PrimitiveType.LINES or PrimitiveType.LINE_LOOP or PrimitiveType.LINE_STRIP
            || primitive.GetVertexAccessor("POSITION") is not { } accessor)
        {
            return;
        }

        int first = mesh.VertexCount;
        int material = mesh.Material(primitive.Material?.Name ?? string.Empty, primitive.Material?.DoubleSided ?? false);
        foreach (Vector3 position in accessor.AsVector3Array())
        {
            Vector3 world = Vector3.Transform(position, worldFromNode);
            if (!float.IsFinite(world.X) || !float.IsFinite(world.Y) || !float.IsFinite(world.Z))
            {
                throw new InvalidInputException(fileName, $"Vertex {mesh.VertexCount - first} of a part of the mesh is no finite position.");
            }

            mesh.AddPosition(new Vec3(world.X, world.Y, world.Z));
        }

        int count = mesh.VertexCount - first;
        bool isMirrored = worldFromNode.GetDeterminant() < 0;
        foreach ((int a, int b, int c) in primitive.GetTriangleIndices())
        {
            if ((uint)a >= (uint)count || (uint)b >= (uint)count || (uint)c >= (uint)count)
            {
                throw new InvalidInputException(fileName, $"A triangle names the vertices {a}, {b} and {c}; its part of the mesh has {count}, counted from 0.");
            }

            mesh.AddFacet(material, isMirrored ? new Facet(first + a, first + c, first + b) : new Facet(first + a, first + b, first + c));
        }
    }
}
