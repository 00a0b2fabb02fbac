using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Coverage;

/// <summary>The wearer and other obstacles in one, without the skin right at the transducers' faces.</summary>
/// <param name="wearer">The wearer's surface.</param>
/// <param name="others">Other obstacles; null for none.</param>
/// <param name="sensor">The sensor on the wearer.</param>
internal sealed class JoinedScene(IRayScene wearer, IRayScene? others, SensorAtPose sensor) : IRayScene
{
    private static readonly double SkinMetres = EchoSurroundings.Open.WearerGapMetres;

    /// <inheritdoc/>
    public bool AnyHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres)
    {
        double near = Near(origin, nearMetres);
        return (farMetres > near && wearer.AnyHit(origin, unitDirection, near, farMetres))
            || (others is not null && others.AnyHit(origin, unitDirection, nearMetres, farMetres));
    }

    /// <inheritdoc/>
    public bool IsClear(Vec3 lowMetres, Vec3 highMetres) => wearer.IsClear(lowMetres, highMetres) && (others is null || others.IsClear(lowMetres, highMetres));

    /// <inheritdoc/>
    public void AnyHits(ReadOnlySpan<Ray> rays, Span<bool> hits)
    {
        const int RaysAtATime = 64;
        Span<Ray> own = stackalloc Ray[RaysAtATime];
        for (int start = 0; start < rays.Length; start += RaysAtATime)
        {
            int count = Math.Min(RaysAtATime, rays.Length - start);
            for (int i = 0; i < count; i++)
            {
                Ray ray = rays[start + i];
                double near = Near(ray.Origin, ray.NearMetres);
                own[i] = ray with { NearMetres = ray.FarMetres > near ? near : double.PositiveInfinity };
            }

            wearer.AnyHits(own[..count], hits[start..]);
        }

        if (others is not null)
        {
            RemainingRays.AnyHits(others, rays, hits);
        }
    }

    /// <inheritdoc/>
    public RayHit? ClosestHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres)
    {
        double near = Near(origin, nearMetres);
        RayHit? own = farMetres > near ? wearer.ClosestHit(origin, unitDirection, near, farMetres) : null;
        RayHit? other = others?.ClosestHit(origin, unitDirection, nearMetres, farMetres);
        return own is { } a && !(other?.DistanceMetres < a.DistanceMetres) ? own : other;
    }

    private double Near(Vec3 origin, double near) =>
        origin.DistanceTo(sensor.TransmitterMetres) < 1e-9 || origin.DistanceTo(sensor.ReceiverMetres) < 1e-9 ? Math.Max(near, SkinMetres) : near;
}
