using System.Globalization;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Benchmarks.Tasks;

/// <summary>The same rays asked one by one and as a batch; the answers are kept, so that a checksum can be taken.</summary>
internal sealed class RayQueries(RayScene scene, Ray[] rays, int threads)
{
    // Rays are handed out in pieces: a loop that is entered once a run would still be compiled for its first run when it is measured.
    private const int Piece = 4096;

    private readonly RayHit?[] _closest = new RayHit?[rays.Length];
    private readonly bool[] _any = new bool[rays.Length];

    public void ClosestOneByOne() => Share((first, end) =>
    {
        for (int i = first; i < end; i++)
        {
            ref readonly Ray ray = ref rays[i];
            _closest[i] = scene.ClosestHit(ray.Origin, ray.UnitDirection, ray.NearMetres, ray.FarMetres);
        }
    });

    public void AnyOneByOne() => Share((first, end) =>
    {
        for (int i = first; i < end; i++)
        {
            ref readonly Ray ray = ref rays[i];
            _any[i] = scene.AnyHit(ray.Origin, ray.UnitDirection, ray.NearMetres, ray.FarMetres);
        }
    });

    public void ClosestAsBatch() => scene.ClosestHits(rays, _closest, threads);

    public void AnyAsBatch() => scene.AnyHits(rays, _any, threads);

    public string Check(bool isAny) => isAny
        ? $"hits={_any.Count(hit => hit)}"
        : string.Create(
            CultureInfo.InvariantCulture,
            $"hits={_closest.Count(hit => hit.HasValue)} sumt={_closest.Sum(hit => hit?.DistanceMetres ?? 0):F3}");

    private void Share(Action<int, int> work)
    {
        if (threads == 1)
        {
            InPieces(0, rays.Length);
            return;
        }

        Parallel.For(0, threads, new ParallelOptions { MaxDegreeOfParallelism = threads }, k =>
            InPieces((int)((long)rays.Length * k / threads), (int)((long)rays.Length * (k + 1) / threads)));

        void InPieces(int first, int end)
        {
            for (int i = first; i < end; i += Piece)
            {
                work(i, Math.Min(i + Piece, end));
            }
        }
    }
}
