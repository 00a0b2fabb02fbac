using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Walks;

/// <summary>A shoe that rolls on level ground without slipping, from the heel over the flat sole to the toe.</summary>
/// <remarks>The sole is the lower hull of the shoe in the plane of walking. A convex outline that rolls has touched, when it stands on
/// one of its corners, the length of its outline up to there: <c>x_ankle = s(corner) − x(corner, turned)</c>.</remarks>
internal sealed class RollingSole
{
    private readonly ImmutableArray<(double X, double Z)> _outline;
    private readonly double[] _along;

    /// <summary>Makes the sole of a shoe.</summary>
    /// <param name="vertices">Points of the shoe; the ankle is at the origin, X ahead, Z up. [m]</param>
    internal RollingSole(IEnumerable<Vec3> vertices)
    {
        List<(double X, double Z)> hull = [];
        foreach ((double X, double Z) p in vertices.Select(v => (v.X, v.Z)).Distinct().OrderBy(v => v.X).ThenBy(v => v.Z))
        {
            while (hull.Count >= 2 && Turns(hull[^2], hull[^1], p) <= 0)
            {
                hull.RemoveAt(hull.Count - 1);
            }

            hull.Add(p);
        }

        _outline = [.. hull];
        _along = new double[hull.Count];
        int flat = Lowest(0);
        _along[flat] = hull[flat].X;
        for (int i = flat + 1; i < hull.Count; i++)
        {
            _along[i] = _along[i - 1] + Math.Sqrt(Square(hull[i].X - hull[i - 1].X) + Square(hull[i].Z - hull[i - 1].Z));
        }

        for (int i = flat - 1; i >= 0; i--)
        {
            _along[i] = _along[i + 1] - Math.Sqrt(Square(hull[i].X - hull[i + 1].X) + Square(hull[i].Z - hull[i + 1].Z));
        }
    }

    /// <summary>Returns where the ankle is above the ground that the flat foot had under it: 0 ahead for a flat foot.</summary>
    /// <param name="toeDownRadians">Pitch of the shoe, toe down positive. [rad]</param>
    internal (double AheadMetres, double HeightMetres) Ankle(double toeDownRadians)
    {
        int i = Lowest(toeDownRadians);
        (double sine, double cosine) = Math.SinCos(toeDownRadians);
        (double x, double z) = _outline[i];
        return (_along[i] - ((x * cosine) + (z * sine)), (x * sine) - (z * cosine));
    }

    private int Lowest(double toeDownRadians)
    {
        (double sine, double cosine) = Math.SinCos(toeDownRadians);
        int lowest = 0;
        for (int i = 1; i < _outline.Length; i++)
        {
            if ((_outline[i].Z * cosine) - (_outline[i].X * sine) < (_outline[lowest].Z * cosine) - (_outline[lowest].X * sine))
            {
                lowest = i;
            }
        }

        return lowest;
    }

    private static double Turns((double X, double Z) a, (double X, double Z) b, (double X, double Z) c) =>
        ((b.X - a.X) * (c.Z - a.Z)) - ((b.Z - a.Z) * (c.X - a.X));

    private static double Square(double x) => x * x;
}
