using System.Text;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Meshes;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Tests.Meshes;

/// <summary>Mesh files at and far beyond the largest that is read: their memory is counted, not their time.</summary>
public sealed class LargeMeshFileTests : IDisposable
{
    private const long Megabyte = 1024 * 1024;

    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Fact]
    public void TenMillionFacesAreRefusedInBoundedMemory()
    {
        // 80 MB that are written here and never stored: the file is held once, and no more triangles than the largest mesh has.
        string path = Many("many.obj", 10_000_000);
        long before = GC.GetAllocatedBytesForCurrentThread();
        InvalidInputException refused = Assert.Throws<InvalidInputException>(() => MeshFiles.Read(path, MeshSamples.Metres));
        long used = GC.GetAllocatedBytesForCurrentThread() - before;
        Assert.Contains("more than 2000000 triangles", Assert.Single(refused.Faults).Message, StringComparison.Ordinal);
        Assert.True(used < new FileInfo(path).Length + (160 * Megabyte), $"{used / Megabyte} MB");
    }

    [Fact]
    public void TenMillionFacesThatAGlbFileOnlyClaimsAreRefusedAtOnce()
    {
        byte[] json = Encoding.UTF8.GetBytes("""
            {"asset":{"version":"2.0"},"scene":0,"scenes":[{"nodes":[0]}],"nodes":[{"mesh":0}],"meshes":[{"primitives":[{"attributes":{"POSITION":0},"indices":1}]}],
            "buffers":[{"byteLength":48}],"bufferViews":[{"buffer":0,"byteLength":36},{"buffer":0,"byteOffset":36,"byteLength":12}],
            "accessors":[{"bufferView":0,"componentType":5126,"count":3,"type":"VEC3","min":[0,0,0],"max":[1,1,0]},{"bufferView":1,"componentType":5125,"count":30000000,"type":"SCALAR"}]}
            """);
        byte[] file = MeshSamples.Glb(json, new byte[48]);
        long before = GC.GetAllocatedBytesForCurrentThread();
        InvalidInputException refused = Assert.Throws<InvalidInputException>(() => MeshSamples.Read("mesh.glb", file, new MeshFileOptions()));
        Assert.Contains("30000000", refused.Faults[0].Message, StringComparison.Ordinal);
        Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 16 * Megabyte);
    }

    private string Many(string name, int faces)
    {
        string path = _folder.Write(name, "v 0 0 0\nv 1 0 0\nv 0 1 0\n");
        using FileStream stream = File.Open(path, FileMode.Append);
        byte[] block = Encoding.UTF8.GetBytes(string.Concat(Enumerable.Repeat("f 1 2 3\n", 10_000)));
        for (int i = 0; i < faces / 10_000; i++)
        {
            stream.Write(block);
        }

        return path;
    }
}
