using System.Runtime.Intrinsics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>Spheres and domes: one glint, geometrical acoustics times the exact ratio at small ka.</summary>
internal static class RoundEcho
{
    /// <summary>
    /// <c>p = (1/R²)·(R/2)·a/(a + R)</c>, R from the middle of the pair to the surface (geometrical acoustics: Urick, Principles of
    /// Underwater Sound, table 9.1 for R → ∞), times |f|/(a/2) of the exact series.
    /// </summary>
    internal static LaneComplex Sphere(in EchoView view, SpherePart part, out EchoPath path) =>
        Glint(view, part.CentreMetres, part.RadiusMetres, out path, out _);

    /// <summary>The same, times the share of the Fresnel zone that lies on the dome (its rim taken as straight).</summary>
    internal static LaneComplex Dome(in EchoView view, DomePart part, out EchoPath path)
    {
        LaneComplex whole = Glint(view, part.CentreMetres, part.RadiusMetres, out path, out Vec3 normal);
        if (path.IsSilent)
        {
            return whole;
        }

        double tilt = Math.Atan2(normal.Cross(part.Axis).Length, normal.Dot(part.Axis));
        double half = part.HalfAngle.Radians;
        double curvature = Math.Sqrt((1 / path.Range) + (1 / part.RadiusMetres));
        LaneComplex share = FresnelShare(view, part.RadiusMetres * (half - tilt) * curvature);
        if (half < Math.PI / 2)
        {
            share -= FresnelShare(view, -part.RadiusMetres * (half + tilt) * curvature);
        }

        path.IsSpecular = tilt < half;
        return whole * share;
    }

    /// <summary>(1/√π e^(−iπ/4)) ∫ e^(iu²) du from −∞ to s√k: 1 far inside, ½ on the rim, fading outside.</summary>
    internal static LaneComplex FresnelShare(in EchoView view, double s)
    {
        Vector512<double> x = view.Block.RootWavenumbers * Math.Abs(s);
        double scale = 0.5 / LaneMath.FullFresnelPart;
        LaneComplex tail = LaneMath.PhaseOnce(x * x) * LaneMath.FresnelTail(x) * new LaneComplex(Vector512.Create(scale), Vector512.Create(-scale));
        return s >= 0 ? new LaneComplex(Vector512<double>.One, Vector512<double>.Zero) - tail : tail;
    }

    private static LaneComplex Glint(in EchoView view, Vec3 centre, double radius, out EchoPath path, out Vec3 normal)
    {
        Vec3 towards = view.Midpoint - centre;
        double distance = towards.Length;
        normal = towards / distance;
        double range = distance - radius;
        if (!(range > 1e-6))
        {
            path = EchoPath.Silent(centre);
            return default;
        }

        Vec3 point = centre + (radius * normal);
        double amplitude = radius / (2 * range * (radius + range));
        Vector512<double> exact = view.Block.SphereRatio(radius) * amplitude;
        if (view.Gross is { } gross)
        {
            gross.Begin(view, Vector512<double>.One);
            gross.AddRay(view, point, exact);
            double nearest = FaceMove.RangeOf(view, point);
            if (nearest >= FaceMove.LeastRangeMetres)
            {
                // The size hangs on the middle between the faces.
                gross.AddMove(
                    view, point, GrossSum.Largest(Vector512.Abs(exact)), view.Block.LargestAbsorption * 2 * gross.ArmMetres / nearest, nearest);
            }
            else
            {
                gross.CannotMove();
            }
        }

        LaneComplex ray = view.Ray(point, exact, out double length);
        path = new EchoPath(point, 0.5 * length, true);
        return ray;
    }
}

/// <summary>Where the dominant return of a part comes from.</summary>
internal struct EchoPath(Vec3 point, double range, bool isSpecular)
{
    /// <summary>The point, in the part's own place. [m]</summary>
    internal Vec3 Point = point;

    /// <summary>Half the path. [m]</summary>
    internal double Range = range;

    internal bool IsSpecular = isSpecular;

    internal readonly bool IsSilent => !(Range > 0);

    internal static EchoPath Silent(Vec3 point) => new(point, 0, false);
}
