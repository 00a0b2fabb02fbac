using System.Buffers.Binary;
using System.Collections.Immutable;
using System.Globalization;
using System.Numerics;
using System.Runtime.InteropServices;
using SharpGLTF.Memory;
using SharpGLTF.Schema2;
using SonarGeom.Geometry;
using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Scenes;

/// <summary>Writes accessors, buffer views and materials directly.</summary>
internal sealed class GltfMeshWriter(ModelRoot model) : IGltfMeshWriter
{
    private readonly Dictionary<(Colour Colour, bool IsTwoSided, bool IsUnlit), Material> _materials = [];

    public Mesh? AddSurface(SceneSurface surface)
    {
        SurfaceVertices vertices = SurfaceVertices.Of(surface.Mesh, surface.SharpEdge);
        if (vertices.Indices.Length == 0)
        {
            return null;
        }

        Mesh mesh = model.CreateMesh(surface.Name);
        MeshPrimitive primitive = mesh.CreatePrimitive();
        primitive.DrawPrimitiveType = PrimitiveType.TRIANGLES;
        primitive.SetVertexAccessor("POSITION", Vectors(vertices.Positions));
        primitive.SetVertexAccessor("NORMAL", Vectors(vertices.Normals));
        primitive.SetIndexAccessor(Indices(vertices.Indices, vertices.Positions.Length));
        primitive.Material = MaterialOf(surface.Colour, surface.IsTwoSided || surface.Colour.Alpha < 255, false);
        return mesh;
    }

    public Mesh? AddLines(string name, ImmutableArray<ImmutableArray<Vec3>> lines, Colour colour)
    {
        var positions = new List<Vector3>();
        var indices = new List<int>();
        foreach (ImmutableArray<Vec3> line in lines)
        {
            if (line.Length < 2)
            {
                continue;
            }

            for (int i = 0; i < line.Length; i++)
            {
                if (i > 0)
                {
                    indices.Add(positions.Count - 1);
                    indices.Add(positions.Count);
                }

                positions.Add(GltfAxes.FromWorld(line[i]) + Vector3.Zero);
            }
        }

        if (indices.Count == 0)
        {
            return null;
        }

        Mesh mesh = model.CreateMesh(name);
        MeshPrimitive primitive = mesh.CreatePrimitive();
        primitive.DrawPrimitiveType = PrimitiveType.LINES;
        primitive.SetVertexAccessor("POSITION", Vectors([.. positions]));
        primitive.SetIndexAccessor(Indices([.. indices], positions.Count));
        primitive.Material = MaterialOf(colour, false, true);
        return mesh;
    }

    private Accessor Vectors(ReadOnlySpan<Vector3> vectors)
    {
        const int size = 12;
        BufferView view = model.CreateBufferView(vectors.Length * size, 0, BufferMode.ARRAY_BUFFER);
        Span<byte> bytes = view.Content.AsSpan();
        if (BitConverter.IsLittleEndian)
        {
            MemoryMarshal.AsBytes(vectors).CopyTo(bytes);
        }
        else
        {
            for (int i = 0; i < vectors.Length; i++)
            {
                BinaryPrimitives.WriteSingleLittleEndian(bytes[(i * size)..], vectors[i].X);
                BinaryPrimitives.WriteSingleLittleEndian(bytes[((i * size) + 4)..], vectors[i].Y);
                BinaryPrimitives.WriteSingleLittleEndian(bytes[((i * size) + 8)..], vectors[i].Z);
            }
        }

        Accessor accessor = model.CreateAccessor(null);
        accessor.SetVertexData(view, 0, vectors.Length, AttributeFormat.Float3);
        accessor.UpdateBounds();
        return accessor;
    }

    private Accessor Indices(ReadOnlySpan<int> indices, int vertexCount)
    {
        bool isShort = vertexCount <= ushort.MaxValue;
        int size = isShort ? 2 : 4;
        BufferView view = model.CreateBufferView(indices.Length * size, 0, BufferMode.ELEMENT_ARRAY_BUFFER);
        Span<byte> bytes = view.Content.AsSpan();
        for (int i = 0; i < indices.Length; i++)
        {
            if (isShort)
            {
                BinaryPrimitives.WriteUInt16LittleEndian(bytes[(i * size)..], (ushort)indices[i]);
            }
            else
            {
                BinaryPrimitives.WriteUInt32LittleEndian(bytes[(i * size)..], (uint)indices[i]);
            }
        }

        Accessor accessor = model.CreateAccessor(null);
        accessor.SetIndexData(
            view, 0, indices.Length, isShort ? IndexEncodingType.UNSIGNED_SHORT : IndexEncodingType.UNSIGNED_INT);
        return accessor;
    }

    private Material MaterialOf(Colour colour, bool isTwoSided, bool isUnlit)
    {
        if (_materials.TryGetValue((colour, isTwoSided, isUnlit), out Material? material))
        {
            return material;
        }

        string opacity = colour.Alpha == 255
            ? "opaque"
            : string.Create(CultureInfo.InvariantCulture, $"opacity {colour.Alpha / 255.0:F2}");
        material = model.CreateMaterial($"{colour} {opacity}{(isUnlit ? " unlit" : string.Empty)}");
        material.InitializePBRMetallicRoughness();
        if (isUnlit)
        {
            material.InitializeUnlit();
        }

        if (material.FindChannel("BaseColor") is { } baseColour)
        {
            baseColour.Color = new Vector4(
                (float)SrgbTransfer.ToLinear(colour.Red),
                (float)SrgbTransfer.ToLinear(colour.Green),
                (float)SrgbTransfer.ToLinear(colour.Blue),
                colour.Alpha / 255f);
        }

        if (!isUnlit && material.FindChannel("MetallicRoughness") is { } surface)
        {
            surface.SetFactor("MetallicFactor", 0);
            surface.SetFactor("RoughnessFactor", 0.75f);
        }

        material.Alpha = colour.Alpha < 255 ? AlphaMode.BLEND : AlphaMode.OPAQUE;
        material.DoubleSided = isTwoSided;
        _materials.Add((colour, isTwoSided, isUnlit), material);
        return material;
    }
}
