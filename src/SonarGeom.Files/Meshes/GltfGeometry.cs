using System.Buffers.Text;
using System.Text.Json;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Meshes;

/// <summary>
/// What of a glTF file has to do with its triangles, checked for counts that no honest file has and for nodes that hang in a circle.
/// Pictures, skins, animations and cameras stay behind.
/// </summary>
/// <param name="Json">The description of the geometry.</param>
/// <param name="Buffers">The bytes of each buffer, by the name that the description gives it.</param>
internal sealed record GltfGeometry(ArraySegment<byte> Json, IReadOnlyDictionary<string, ArraySegment<byte>> Buffers)
{
    private const int MostThings = 100_000;
    private const int DeepestNode = 200;

    private static readonly string[] Kept = ["asset", "scene", "scenes", "nodes", "meshes", "accessors", "bufferViews"];

    private static readonly string[] Unreadable = ["KHR_draco_mesh_compression", "EXT_meshopt_compression", "KHR_meshopt_compression"];

    /// <summary>Takes the geometry out of a description.</summary>
    /// <exception cref="InvalidInputException">A count is absurd, the nodes hang in a circle, or a buffer cannot be had.</exception>
    internal static GltfGeometry Of(string fileName, JsonElement root, ReadOnlyMemory<byte>? binary, Func<string, InputText> neighbour)
    {
        var description = new JsonObject();
        foreach (string name in Kept)
        {
            if (root.TryGetProperty(name, out JsonElement value))
            {
                description[name] = JsonNode.Parse(value.GetRawText());
            }
        }

        foreach (JsonElement extension in Items(root, "extensionsRequired"))
        {
            string name = extension.ToString();
            throw Refused(Unreadable.Contains(name, StringComparer.Ordinal)
                ? $"Its geometry is packed by {name}; save it without compression."
                : $"It needs the extension {PlacedValue.Short(name)}; save it without extensions.");
        }

        if (Items(root, "skins").Any())
        {
            throw Refused("It has a skin that bends with a skeleton; save it in one pose without a skin.");
        }

        CheckCounts();
        CheckNodes(fileName, [.. Items(root, "nodes")]);
        Prune(description);
        AddMaterials(description, root);
        var buffers = new Dictionary<string, ArraySegment<byte>>(StringComparer.Ordinal);
        var named = new JsonArray();
        foreach (JsonElement buffer in Items(root, "buffers"))
        {
            string name = $"buffer-{named.Count}";
            byte[] bytes = Bytes(buffer, named.Count);
            buffers.Add(name, bytes);
            named.Add(new JsonObject { ["byteLength"] = bytes.Length, ["uri"] = name });
        }

        if (named.Count > 0)
        {
            description["buffers"] = named;
        }

        return new GltfGeometry(JsonSerializer.SerializeToUtf8Bytes(description), buffers);

        void CheckCounts()
        {
            long numbers = 0;
            foreach (JsonElement accessor in Items(root, "accessors"))
            {
                long count = accessor.ValueKind == JsonValueKind.Object && accessor.TryGetProperty("count", out JsonElement c)
                    && c.ValueKind == JsonValueKind.Number && c.TryGetInt64(out long n) ? n : -1;
                if (count is < 1 or > RawMesh.MostVertices)
                {
                    throw Refused($"An accessor has a count of {(count < 0 ? "no whole number" : $"{count}")}; it must be from 1 to {RawMesh.MostVertices}.");
                }

                numbers += count;
            }

            if (numbers > 10L * RawMesh.MostVertices)
            {
                throw Refused($"Its accessors have {numbers} entries together; they may have at most {10L * RawMesh.MostVertices}.");
            }
        }

        byte[] Bytes(JsonElement buffer, int index)
        {
            if (buffer.ValueKind != JsonValueKind.Object || !buffer.TryGetProperty("byteLength", out JsonElement said)
                || said.ValueKind != JsonValueKind.Number || !said.TryGetInt64(out long length) || length is < 1 or > MeshFiles.LargestBytes)
            {
                throw Refused($"Buffer {index} does not say that it has from 1 to {MeshFiles.LargestBytes} bytes.");
            }

            byte[] bytes = buffer.TryGetProperty("uri", out JsonElement uri) ? FromUri(uri, index)
                : index == 0 && binary is { } own ? own.ToArray()
                : throw Refused($"Buffer {index} does not say where its bytes are.");
            return bytes.Length >= length
                ? bytes[..(int)length]
                : throw Refused($"Buffer {index} says that it has {length} bytes, but there are {bytes.Length}; the file may be cut off.");
        }

        byte[] FromUri(JsonElement uri, int index)
        {
            string text = uri.ValueKind == JsonValueKind.String ? uri.GetString()! : string.Empty;
            if (!text.StartsWith("data:", StringComparison.Ordinal))
            {
                return text.Length is > 0 and < 500 && !text.Any(char.IsControl)
                    ? neighbour(Uri.UnescapeDataString(text)).Utf8.ToArray()
                    : throw Refused($"Buffer {index} does not say where its bytes are.");
            }

            int comma = text.IndexOf(";base64,", StringComparison.Ordinal);
            return comma >= 0 && Base64.IsValid(text.AsSpan(comma + 8), out _)
                ? Convert.FromBase64String(text[(comma + 8)..])
                : throw Refused($"The bytes of buffer {index} are not written in base 64.");
        }

        InvalidInputException Refused(string message) => new(fileName, message);
    }

    private static JsonElement.ArrayEnumerator Items(JsonElement of, string name) =>
        of.ValueKind == JsonValueKind.Object && of.TryGetProperty(name, out JsonElement list) && list.ValueKind == JsonValueKind.Array ? list.EnumerateArray() : default;

    // The library walks up and down the nodes by recursion: a circle or a great depth must not reach it.
    private static void CheckNodes(string fileName, JsonElement[] nodes)
    {
        if (nodes.Length > MostThings)
        {
            throw new InvalidInputException(fileName, $"It has {nodes.Length} nodes; it may have at most {MostThings}.");
        }

        var holder = new int[nodes.Length];
        Array.Fill(holder, -1);
        for (int i = 0; i < nodes.Length; i++)
        {
            foreach (JsonElement child in Items(nodes[i], "children"))
            {
                if (child.ValueKind != JsonValueKind.Number || !child.TryGetInt32(out int c) || c < 0 || c >= nodes.Length || holder[c] >= 0)
                {
                    throw new InvalidInputException(fileName, $"Node {i} holds the node {PlacedValue.Short(child.ToString())}, which does not exist or hangs elsewhere already.");
                }

                holder[c] = i;
            }
        }

        for (int i = 0; i < nodes.Length; i++)
        {
            int depth = 0;
            for (int at = i; at >= 0; at = holder[at])
            {
                if (++depth > DeepestNode)
                {
                    throw new InvalidInputException(fileName, $"Node {i} hangs in a circle or deeper than {DeepestNode} nodes.");
                }
            }
        }
    }

    // Leaves of nodes and primitives what places triangles.
    private static void Prune(JsonObject description)
    {
        foreach (JsonObject node in Objects(description["nodes"]))
        {
            Keep(node, ["name", "children", "mesh", "matrix", "translation", "rotation", "scale"]);
        }

        foreach (JsonObject scene in Objects(description["scenes"]))
        {
            Keep(scene, ["name", "nodes"]);
        }

        foreach (JsonObject mesh in Objects(description["meshes"]))
        {
            Keep(mesh, ["name", "primitives"]);
            foreach (JsonObject primitive in Objects(mesh["primitives"]))
            {
                Keep(primitive, ["attributes", "indices", "material", "mode"]);
                if (primitive["attributes"] is JsonObject attributes)
                {
                    Keep(attributes, ["POSITION"]);
                }
            }
        }
    }

    private static void AddMaterials(JsonObject description, JsonElement root)
    {
        var materials = new JsonArray();
        foreach (JsonElement material in Items(root, "materials"))
        {
            var plain = new JsonObject();
            if (material.ValueKind == JsonValueKind.Object)
            {
                if (material.TryGetProperty("name", out JsonElement name) && name.ValueKind == JsonValueKind.String)
                {
                    plain["name"] = name.GetString();
                }

                if (material.TryGetProperty("doubleSided", out JsonElement both) && both.ValueKind == JsonValueKind.True)
                {
                    plain["doubleSided"] = true;
                }
            }

            materials.Add(plain);
        }

        if (materials.Count > 0)
        {
            description["materials"] = materials;
        }
    }

    private static IEnumerable<JsonObject> Objects(JsonNode? list) => list is JsonArray items ? items.OfType<JsonObject>() : [];

    private static void Keep(JsonObject of, string[] names)
    {
        foreach (string other in of.Select(m => m.Key).Where(k => !names.Contains(k, StringComparer.Ordinal)).ToArray())
        {
            of.Remove(other);
        }
    }
}
