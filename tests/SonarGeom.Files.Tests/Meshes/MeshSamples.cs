using System.Buffers.Binary;
using System.Text;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Meshes;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Tests.Meshes;

/// <summary>Small mesh files and the ways to read them.</summary>
internal static class MeshSamples
{
    /// <summary>A box of 2 by 1 by 0.5, six quadrilaterals that look outward, of two materials.</summary>
    internal const string BoxObj = """
        # a box
        o box
        v 0 0 0
        v 2 0 0
        v 2 1 0
        v 0 1 0
        v 0 0 0.5
        v 2 0 0.5
        v 2 1 0.5
        v 0 1 0.5
        usemtl wood
        f 1 4 3 2
        f 5 6 7 8
        usemtl felt
        f 1/1 2/2 6/3 5/4
        f 2//1 3//1 7//1 6//1
        f -6 -5 -1 -2
        f 4 1 5 8
        """;

    internal static readonly MeshFileOptions Metres = new() { Unit = LengthUnit.Metre, Up = MeshAxis.Z };

    internal static MeshShape Obj(string text, MeshFileOptions? options = null) => Read("mesh.obj", Encoding.UTF8.GetBytes(text), options ?? Metres);

    internal static MeshShape Read(string name, byte[] bytes, MeshFileOptions options) =>
        MeshFiles.Read(InputText.FromBinary(name, bytes), options, n => throw new Files.Faults.InvalidInputException(name, $"There is no {n} here."));

    /// <summary>The same box, Y up, as binary glTF: 8 positions, 12 triangles, one node.</summary>
    internal static byte[] BoxGlb(string node = "\"mesh\":0", string material = "{\"name\":\"wood\"}", string more = "")
    {
        (float X, float Y, float Z)[] corners = [(0, 0, 0), (2, 0, 0), (2, 1, 0), (0, 1, 0), (0, 0, 0.5f), (2, 0, 0.5f), (2, 1, 0.5f), (0, 1, 0.5f)];
        int[] quads = [0, 3, 2, 1, 4, 5, 6, 7, 0, 1, 5, 4, 1, 2, 6, 5, 2, 3, 7, 6, 3, 0, 4, 7];
        var binary = new MemoryStream();
        using (var writer = new BinaryWriter(binary, Encoding.UTF8, leaveOpen: true))
        {
            foreach ((float x, float y, float z) in corners)
            {
                // Z up to Y up: (x, y, z) → (x, z, −y).
                writer.Write(x);
                writer.Write(z);
                writer.Write(-y);
            }

            for (int q = 0; q < quads.Length; q += 4)
            {
                foreach (int i in (int[])[quads[q], quads[q + 1], quads[q + 2], quads[q], quads[q + 2], quads[q + 3]])
                {
                    writer.Write((ushort)i);
                }
            }
        }

        string json = $$"""
            {"asset":{"version":"2.0"},"scene":0,"scenes":[{"nodes":[0]}],"nodes":[{{{node}}}],
            "meshes":[{"primitives":[{"attributes":{"POSITION":0},"indices":1,"material":0}]}],"materials":[{{material}}],
            "accessors":[{"bufferView":0,"componentType":5126,"count":8,"type":"VEC3","min":[0,0,-1],"max":[2,0.5,0]},
            {"bufferView":1,"componentType":5123,"count":36,"type":"SCALAR"}],
            "bufferViews":[{"buffer":0,"byteLength":96,"target":34962},{"buffer":0,"byteOffset":96,"byteLength":72,"target":34963}],
            "buffers":[{"byteLength":168}]{{more}}}
            """;
        return Glb(Encoding.UTF8.GetBytes(json), binary.ToArray());
    }

    internal static byte[] Glb(byte[] json, byte[] binary)
    {
        byte[] padded = [.. json, .. Enumerable.Repeat((byte)' ', (4 - (json.Length % 4)) % 4)];
        var all = new MemoryStream();
        Number(0x46546C67);
        Number(2);
        Number((uint)(12 + 8 + padded.Length + 8 + binary.Length));
        Number((uint)padded.Length);
        Number(0x4E4F534A);
        all.Write(padded);
        Number((uint)binary.Length);
        Number(0x004E4942);
        all.Write(binary);
        return all.ToArray();

        void Number(uint value)
        {
            Span<byte> four = stackalloc byte[4];
            BinaryPrimitives.WriteUInt32LittleEndian(four, value);
            all.Write(four);
        }
    }
}
