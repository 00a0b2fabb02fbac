using System.Collections.Immutable;
using System.Globalization;
using System.Runtime.InteropServices;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Quantities;

namespace SonarGeom.Benchmarks.Tasks;

/// <summary>
/// Task T1: a million rays from four sensors against street scenes of triangles and of analytic primitives, one ray at a time
/// and as a batch, nearest hit and any hit, and the time to build each scene.
/// </summary>
public static class RayTask
{
    private const int Repetitions = 5;
    private static readonly string[] Scenes = ["small", "medium", "large"];

    /// <summary>Runs every case and writes a line for each.</summary>
    /// <param name="dataFolder">The folder that holds the scene and ray files.</param>
    /// <param name="output">Takes the lines.</param>
    public static void Run(string dataFolder, TextWriter output)
    {
        ArgumentNullException.ThrowIfNull(output);
        RayFile coherent = RayFile.Read(Path.Combine(dataFolder, "rays_coherent.bin"));
        RayFile shuffled = RayFile.Read(Path.Combine(dataFolder, "rays_shuffled.bin"));
        foreach (string kind in new[] { "mesh", "analytic" })
        {
            foreach (string size in Scenes)
            {
                string file = Path.Combine(dataFolder, $"scene_{size}");
                Func<int, RayScene> build = kind == "mesh" ? MeshBuilder(file + ".bin") : SolidBuilder(file + ".csv");
                RunScene(build, $"{kind}/{size}", coherent, shuffled, output);
            }
        }
    }

    /// <summary>Returns a function that builds the scene of a mesh file on a number of threads.</summary>
    internal static Func<int, RayScene> MeshBuilder(string file)
    {
        byte[] bytes = File.ReadAllBytes(file);
        int vertexCount = BitConverter.ToInt32(bytes, 4);
        int facetCount = BitConverter.ToInt32(bytes, 8);
        ReadOnlySpan<float> positions = MemoryMarshal.Cast<byte, float>(bytes.AsSpan(12, 12 * vertexCount));
        var vertices = new Vec3[vertexCount];
        for (int i = 0; i < vertexCount; i++)
        {
            vertices[i] = new(positions[3 * i], positions[(3 * i) + 1], positions[(3 * i) + 2]);
        }

        Facet[] facets = MemoryMarshal.Cast<byte, Facet>(bytes.AsSpan(12 + (12 * vertexCount), 12 * facetCount)).ToArray();
        TriangleMesh mesh = new(ImmutableCollectionsMarshal.AsImmutableArray(vertices), ImmutableCollectionsMarshal.AsImmutableArray(facets));
        return threads => new RayScene.Builder().AddMesh(mesh, 0).Build(threads);
    }

    /// <summary>Returns a function that builds the scene of a table of analytic primitives on a number of threads.</summary>
    internal static Func<int, RayScene> SolidBuilder(string file)
    {
        (string Kind, double[] Values)[] rows =
        [
            .. File.ReadLines(file).Skip(1).Select(line => line.Split(',')).Select(cells =>
                (cells[0], cells.Skip(1).Select(cell => double.Parse(cell, CultureInfo.InvariantCulture)).ToArray())),
        ];
        return threads =>
        {
            RayScene.Builder builder = new();
            for (int i = 0; i < rows.Length; i++)
            {
                (string kind, double[] v) = rows[i];
                Vec3 first = new(v[0], v[1], v[2]);
                Vec3 second = new(v[3], v[4], v[5]);
                _ = kind switch
                {
                    "box" => builder.AddBox(new RigidTransform(Rotation.AboutZ(Angle.FromRadians(v[7])), first), second, i),
                    "cylinder" => builder.AddCylinder(first, second, v[6], i),
                    _ => builder.AddCapsule(first, second, v[6], i),
                };
            }

            return builder.Build(threads);
        };
    }

    private static void RunScene(Func<int, RayScene> build, string tag, RayFile coherent, RayFile shuffled, TextWriter output)
    {
        RayScene scene = build(1);
        for (int threads = 1; threads <= 2; threads++)
        {
            int count = threads;
            Timing timing = Timing.Of(() => scene = build(count), Repetitions);
            new TaskLine("T1", $"{tag}/build", threads, "Mprims/s", $"n={scene.PrimitiveCount}")
                .WriteRate(output, timing, scene.PrimitiveCount / 1e6);
        }

        foreach ((string order, RayFile rays) in new[] { ("coherent", coherent), ("shuffled", shuffled) })
        {
            for (int threads = 1; threads <= 2; threads++)
            {
                RunQueries(scene, $"{tag}/closest/{order}", rays.Closest, isAny: false, threads, output);
                RunQueries(scene, $"{tag}/any/{order}", rays.Any, isAny: true, threads, output);
            }
        }
    }

    private static void RunQueries(RayScene scene, string name, Ray[] rays, bool isAny, int threads, TextWriter output)
    {
        RayQueries queries = new(scene, rays, threads);
        Timing single = Timing.Of(isAny ? queries.AnyOneByOne : queries.ClosestOneByOne, Repetitions);
        new TaskLine("T1", name, threads, "Mrays/s", queries.Check(isAny)).WriteRate(output, single, rays.Length / 1e6);
        Timing batch = Timing.Of(isAny ? queries.AnyAsBatch : queries.ClosestAsBatch, Repetitions);
        new TaskLine("T1", name, threads, "Mrays/s", queries.Check(isAny)) { Peer = "project-batch" }
            .WriteRate(output, batch, rays.Length / 1e6);
    }
}
