using System.Globalization;
using System.Text;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Geometry;

namespace SonarGeom.Files.Meshes;

/// <summary>Reads OBJ text: vertices, polygons and names of materials. Polygons become fans of triangles.</summary>
/// <remarks>Texture coordinates, normals, groups and names of objects are passed over, lines and points too, since they have no area.
/// Curved surfaces are refused.</remarks>
internal static class ObjReader
{
    private const int MostFaults = 20;
    private const int MostCorners = 1000;
    private const int MostTries = 4096;

    private static readonly string[] PassedOver = ["vt", "vn", "vp", "o", "g", "s", "mtllib", "l", "p", "mg", "usemap", "maplib", "shadow_obj", "trace_obj", "lod", "bevel", "c_interp", "d_interp"];

    /// <summary>Reads a file.</summary>
    /// <exception cref="InvalidInputException">A line is at fault.</exception>
    internal static RawMesh Read(InputText file)
    {
        var mesh = new RawMesh(file.Name);
        var faults = new FaultList();
        int material = mesh.Material(string.Empty);
        var corners = new List<int>();
        ReadOnlySpan<byte> rest = file.Utf8.Span;
        for (int number = 1; !rest.IsEmpty && faults.Count < MostFaults; number++)
        {
            int end = rest.IndexOfAny((byte)'\n', (byte)'\r');
            ReadOnlySpan<byte> line = end < 0 ? rest : rest[..end];
            int next = end < 0 ? rest.Length : end + (rest[end] == '\r' && end + 1 < rest.Length && rest[end + 1] == '\n' ? 2 : 1);
            rest = rest[next..];
            int comment = line.IndexOf((byte)'#');
            line = (comment < 0 ? line : line[..comment]).Trim(" \t"u8);
            if (line.IsEmpty)
            {
                continue;
            }

            ReadOnlySpan<byte> arguments = line;
            ReadOnlySpan<byte> word = Word(ref arguments);
            if (line[^1] == '\\')
            {
                Add("The line ends in a backslash; each statement must stand on one line.");
            }
            else if (word.SequenceEqual("v"u8))
            {
                if (Position(arguments, out Vec3 position) is { } fault)
                {
                    Add(fault);
                }

                mesh.AddPosition(position);
            }
            else if (word.SequenceEqual("f"u8))
            {
                if (Corners(arguments, mesh.VertexCount, corners) is { } fault)
                {
                    Add(fault);
                }
                else if (!AddFan(mesh, material, corners))
                {
                    Add("The polygon is not convex, so that no fan of triangles fills it; it must be cut into triangles before.");
                }
            }
            else if (word.SequenceEqual("usemtl"u8))
            {
                material = mesh.Material(Encoding.UTF8.GetString(arguments.Trim(" \t"u8)));
            }
            else if (!IsPassedOver(word))
            {
                Add($"{Shown(word)} is not known here; the file may hold polygons (v, f, usemtl, o) but no curved surfaces.");
            }

            void Add(string message) => faults.Add(new Fault(file.Name, number, null, null, message));
        }

        faults.ThrowIfAny();
        return mesh.FacetCount > 0
            ? mesh
            : throw new InvalidInputException(file.Name, "The file holds no polygon (f); a mesh must have at least one.");
    }

    private static ReadOnlySpan<byte> Word(ref ReadOnlySpan<byte> rest)
    {
        rest = rest.TrimStart(" \t"u8);
        int end = rest.IndexOfAny((byte)' ', (byte)'\t');
        ReadOnlySpan<byte> word = end < 0 ? rest : rest[..end];
        rest = end < 0 ? [] : rest[end..];
        return word;
    }

    // Three coordinates; a weight of 1, or three shares of a colour, or both may follow.
    private static string? Position(ReadOnlySpan<byte> arguments, out Vec3 position)
    {
        position = default;
        Span<double> numbers = stackalloc double[7];
        int count = 0;
        while (!arguments.IsEmpty)
        {
            ReadOnlySpan<byte> word = Word(ref arguments);
            if (count == 7)
            {
                return "The vertex has more than 7 numbers; it must have x, y and z.";
            }

            if (!double.TryParse(word, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint | NumberStyles.AllowExponent, CultureInfo.InvariantCulture, out numbers[count])
                || !double.IsFinite(numbers[count]))
            {
                return $"{Shown(word)} is no finite number; a vertex must have x, y and z.";
            }

            count++;
        }

        if (count is not (3 or 4 or 6 or 7))
        {
            return $"The vertex has {count} numbers; it must have x, y and z.";
        }

        if (count is 4 or 7 && numbers[3] != 1)
        {
            return $"The vertex has the weight {numbers[3]:R}; only 1 can be read.";
        }

        position = new Vec3(numbers[0], numbers[1], numbers[2]);
        return null;
    }

    private static string? Corners(ReadOnlySpan<byte> arguments, int vertexCount, List<int> corners)
    {
        corners.Clear();
        while (!arguments.IsEmpty)
        {
            ReadOnlySpan<byte> word = Word(ref arguments);
            int slash = word.IndexOf((byte)'/');
            ReadOnlySpan<byte> first = slash < 0 ? word : word[..slash];
            if (!int.TryParse(first, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out int index) || index == 0)
            {
                return $"{Shown(word)} is no corner; it must begin with the number of a vertex, from 1 on, or back from -1.";
            }

            long place = index > 0 ? index - 1L : vertexCount + (long)index;
            if (place < 0 || place >= vertexCount)
            {
                return $"The polygon names vertex {index}; there are {vertexCount} before it.";
            }

            if (corners.Count == MostCorners)
            {
                return $"The polygon has more than {MostCorners} corners; it may have at most that many.";
            }

            corners.Add((int)place);
        }

        return corners.Count < 3 ? $"The polygon has {corners.Count} corners; it must have at least 3." : null;
    }

    // A fan from a corner fills the polygon when all its triangles turn the way of the whole.
    private static bool AddFan(RawMesh mesh, int material, List<int> corners)
    {
        int apex = corners.Count == 3 ? 0 : Apex(mesh.Positions, corners);
        if (apex < 0)
        {
            return false;
        }

        int n = corners.Count;
        for (int i = 1; i + 1 < n; i++)
        {
            mesh.AddFacet(material, new Facet(corners[apex], corners[(apex + i) % n], corners[(apex + i + 1) % n]));
        }

        return true;
    }

    private static int Apex(ReadOnlySpan<Vec3> positions, List<int> corners)
    {
        int n = corners.Count;
        Vec3 first = positions[corners[0]], whole = Vec3.Zero;
        for (int i = 1; i + 1 < n; i++)
        {
            whole += (positions[corners[i]] - first).Cross(positions[corners[i + 1]] - first);
        }

        // Few corners of many are tried, so that no file takes long.
        for (int apex = 0; apex < Math.Min(n, 1 + (MostTries / n)); apex++)
        {
            Vec3 from = positions[corners[apex]];
            bool fills = true;
            for (int i = 1; i + 1 < n && fills; i++)
            {
                Vec3 turn = (positions[corners[(apex + i) % n]] - from).Cross(positions[corners[(apex + i + 1) % n]] - from);
                fills = turn.Dot(whole) >= 0;
            }

            if (fills)
            {
                return apex;
            }
        }

        return -1;
    }

    private static bool IsPassedOver(ReadOnlySpan<byte> word)
    {
        foreach (string known in PassedOver)
        {
            if (Encoding.ASCII.GetByteCount(known) == word.Length && Ascii.Equals(word, known))
            {
                return true;
            }
        }

        return false;
    }

    private static string Shown(ReadOnlySpan<byte> word) => PlacedValue.Short(Encoding.UTF8.GetString(word));
}
