using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Coverage;

/// <summary>Which directions the wearer's own body blocks for one sensor at one moment, and from how far on.</summary>
/// <remarks>
/// Rays on a grid of 5° by 5° in azimuth and elevation, symmetric about straight ahead; what lies more than 107° off straight
/// ahead counts as hidden. Between the rays the share of free neighbours is interpolated: at arm's length 5° is about the radius
/// of the first Fresnel zone at 40 kHz, so that a limb narrower than the zone weakens an echo and does not blank it.
/// </remarks>
public sealed class BodyShadow
{
    private const int StepDegrees = 5;
    private const int AzimuthCells = 360 / StepDegrees;
    private const int ElevationCells = 180 / StepDegrees;
    private const double SkinMetres = 0.03;
    private const double FarthestMetres = 2.5;

    private const double BehindCosine = -0.3;

    private static readonly Lazy<(Vec3[] Directions, int[] Cells)> Directions = new(AllDirections);

    private readonly float[] _blockedFromMetres;
    private readonly Rotation _bodyFromWorld;

    private BodyShadow(float[] blockedFromMetres, bool isClear, Rotation bodyFromWorld)
    {
        _blockedFromMetres = blockedFromMetres;
        _bodyFromWorld = bodyFromWorld;
        IsClearAhead = isClear;
    }

    /// <summary>Gets whether nothing of the body lies within 80° of straight ahead.</summary>
    public bool IsClearAhead { get; }

    /// <summary>Casts the rays.</summary>
    /// <param name="body">The wearer's surface at this moment.</param>
    /// <param name="originMetres">Position of the sensor face. [m]</param>
    public static BodyShadow Of(IRayScene body, Vec3 originMetres)
    {
        ArgumentNullException.ThrowIfNull(body);
        (Vec3[] directions, int[] cells) = Directions.Value;
        var rays = new Ray[directions.Length];
        for (int i = 0; i < rays.Length; i++)
        {
            rays[i] = new Ray(originMetres, directions[i], SkinMetres, FarthestMetres);
        }

        var hits = new RayHit?[rays.Length];
        body.ClosestHits(rays, hits);
        var blocked = new float[AzimuthCells * ElevationCells];
        bool clear = true;
        for (int i = 0; i < rays.Length; i++)
        {
            blocked[cells[i]] = hits[i] is { } h ? (float)h.DistanceMetres : float.PositiveInfinity;
            clear &= hits[i] is null || directions[i].X < 0.17;
        }

        return new BodyShadow(blocked, clear, Rotation.Identity);
    }

    // Those together whose signs and fastest axis agree: they travel together.
    private static (Vec3[] Directions, int[] Cells) AllDirections()
    {
        List<(Vec3 Direction, int Cell)> all = [];
        for (int e = 0; e < ElevationCells; e++)
        {
            double elevation = (((e + 0.5) * StepDegrees) - 90) * (Math.PI / 180);
            var (sinE, cosE) = Math.SinCos(elevation);
            for (int a = 0; a < AzimuthCells; a++)
            {
                double azimuth = (((a + 0.5) * StepDegrees) - 180) * (Math.PI / 180);
                var (sinA, cosA) = Math.SinCos(azimuth);
                var direction = new Vec3(cosE * cosA, cosE * sinA, sinE);
                if (direction.X >= BehindCosine)
                {
                    all.Add((direction, (e * AzimuthCells) + a));
                }
            }
        }

        all = [.. all.OrderBy(one => Kind(one.Direction))];
        return ([.. all.Select(one => one.Direction)], [.. all.Select(one => one.Cell)]);

        static int Kind(Vec3 v)
        {
            (double x, double y, double z) = (Math.Abs(v.X), Math.Abs(v.Y), Math.Abs(v.Z));
            int signs = (v.X < 0 ? 1 : 0) + (v.Y < 0 ? 2 : 0) + (v.Z < 0 ? 4 : 0);
            return signs + (x > y && x > z ? 0 : y > z ? 8 : 16);
        }
    }

    /// <summary>Returns the shadow of the same body and sensor turned together about the upright axis.</summary>
    /// <param name="yaw">The turn, positive left.</param>
    public BodyShadow TurnedBy(Quantities.Angle yaw) =>
        new(_blockedFromMetres, IsClearAhead, _bodyFromWorld * Rotation.AboutZ(-yaw));

    /// <summary>Returns the share of the way straight down that is free of the body, over all directions that lean at most 5° from it. [unitless]</summary>
    /// <param name="distanceMetres">Height above the ground. [m]</param>
    public double FreeFractionBelow(double distanceMetres)
    {
        int free = 0;
        for (int a = 0; a < AzimuthCells; a++)
        {
            free += _blockedFromMetres[a] > distanceMetres ? 1 : 0;
        }

        return (double)free / AzimuthCells;
    }

    /// <summary>Returns the share of a direction that is free of the body up to a distance, 0 to 1. [unitless]</summary>
    /// <param name="displacementMetres">From the sensor to the reflecting point. [m]</param>
    public double FreeFraction(Vec3 displacementMetres)
    {
        displacementMetres = _bodyFromWorld.Apply(displacementMetres);
        double distance = displacementMetres.Length;
        if (IsClearAhead && displacementMetres.X > 0.25 * distance)
        {
            return 1;
        }

        double elevation = Math.Asin(Math.Clamp(displacementMetres.Z / distance, -1, 1)) * (180 / Math.PI);
        double azimuth = Math.Atan2(displacementMetres.Y, displacementMetres.X) * (180 / Math.PI);
        double e = Math.Clamp(((elevation + 90) / StepDegrees) - 0.5, 0, ElevationCells - 1.000001);
        double a = ((azimuth + 180) / StepDegrees) - 0.5;
        int e0 = (int)e, a0 = (int)Math.Floor(a);
        double fe = e - e0, fa = a - a0;
        int left = Wrap(a0), right = Wrap(a0 + 1);
        return ((1 - fe) * (((1 - fa) * Free(e0, left)) + (fa * Free(e0, right))))
            + (fe * (((1 - fa) * Free(e0 + 1, left)) + (fa * Free(e0 + 1, right))));

        static int Wrap(int i) => (i + AzimuthCells) % AzimuthCells;
        double Free(int row, int column) => _blockedFromMetres[(row * AzimuthCells) + column] > distance ? 1 : 0;
    }
}
