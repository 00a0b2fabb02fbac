using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Bodies.Surfaces;

/// <summary>Makes closed surfaces through level cuts, with rounded ends.</summary>
/// <remarks>Vertices come in rings of an even number; the vertex at the front is the first of its ring, and the ring is laid so that
/// mirroring left and right maps it onto itself exactly. The last two vertices are the lower and the upper pole.</remarks>
internal static class Loft
{
    private const int CapRings = 2;

    // How slowly a full end narrows: it stays wide almost to its tip, as where two parts of the trunk run into each other.
    private const double FullPower = 0.45;
    private const double FullWidth = 0.97;

    /// <summary>Returns the surface through the cuts, smoothly interpolated between them.</summary>
    /// <param name="keys">At least two cuts of rising height.</param>
    /// <param name="rings">About how many rings between the ends.</param>
    /// <param name="around">Vertices of a ring; an even number.</param>
    /// <param name="lowerCap">Length of the rounded lower end. [m]</param>
    /// <param name="upperCap">Length of the rounded upper end. [m]</param>
    /// <param name="lowerIsFull">Whether the lower end stays wide almost to its tip.</param>
    /// <param name="upperIsFull">Whether the upper end stays wide almost to its tip.</param>
    internal static TriangleMesh Through(
        IReadOnlyList<Section> keys, int rings, int around, double lowerCap, double upperCap, bool lowerIsFull = false, bool upperIsFull = false)
    {
        List<Section> cuts = [];
        for (int i = CapRings; i >= 1; i--)
        {
            (double s, double c) = Math.SinCos(0.5 * Math.PI * i / (CapRings + 1));
            cuts.Add(keys[0].Shrunk(lowerIsFull ? FullWidth * Math.Pow(c, FullPower) : c, keys[0].Height - (lowerCap * s)));
        }

        cuts.AddRange(Resampled(keys, rings));
        for (int i = 1; i <= CapRings; i++)
        {
            (double s, double c) = Math.SinCos(0.5 * Math.PI * i / (CapRings + 1));
            cuts.Add(keys[^1].Shrunk(upperIsFull ? FullWidth * Math.Pow(c, FullPower) : c, keys[^1].Height + (upperCap * s)));
        }

        return Exactly(cuts, around, Pole(keys[0], -lowerCap), Pole(keys[^1], upperCap));
    }

    /// <summary>Returns the surface through exactly the given cuts and poles.</summary>
    internal static TriangleMesh Exactly(IReadOnlyList<Section> cuts, int around, Vec3 lowerPole, Vec3 upperPole)
    {
        var vertices = ImmutableArray.CreateBuilder<Vec3>((cuts.Count * around) + 2);
        foreach (Section cut in cuts)
        {
            AddRing(vertices, cut, around);
        }

        int lower = vertices.Count;
        vertices.Add(lowerPole);
        vertices.Add(upperPole);

        var facets = ImmutableArray.CreateBuilder<Facet>();
        for (int j = 0; j < around; j++)
        {
            int next = (j + 1) % around;
            int top = (cuts.Count - 1) * around;
            facets.Add(new Facet(lower, next, j));
            for (int i = 0; i + 1 < cuts.Count; i++)
            {
                int a = (i * around) + j;
                int b = (i * around) + next;

                // The diagonals of the right half mirror those of the left.
                if (j < around / 2)
                {
                    facets.Add(new Facet(a, b, b + around));
                    facets.Add(new Facet(a, b + around, a + around));
                }
                else
                {
                    facets.Add(new Facet(a, b, a + around));
                    facets.Add(new Facet(b, b + around, a + around));
                }
            }

            facets.Add(new Facet(lower + 1, top + j, top + next));
        }

        return new TriangleMesh(vertices.ToImmutable(), facets.ToImmutable());
    }

    /// <summary>Returns the cut at a height, smoothly interpolated.</summary>
    internal static Section At(IReadOnlyList<Section> keys, double height)
    {
        double[] heights = [.. keys.Select(k => k.Height)];
        double[][] values = [.. keys.Select(k => k.ToArray())];
        return Section.FromArray(height, MonotoneCurve.At(heights, values, height));
    }

    private static Vec3 Pole(Section end, double cap) => new(end.Middle, end.Side, end.Height + cap);

    private static IEnumerable<Section> Resampled(IReadOnlyList<Section> keys, int rings)
    {
        // Every key is a ring, so that measured levels are met; the others are spread between them by height.
        double whole = keys[^1].Height - keys[0].Height;
        yield return keys[0];
        for (int k = 1; k < keys.Count; k++)
        {
            double rise = keys[k].Height - keys[k - 1].Height;
            int steps = Math.Max(1, (int)Math.Round((rings - 1) * rise / whole));
            for (int i = 1; i < steps; i++)
            {
                yield return At(keys, keys[k - 1].Height + (rise * i / steps));
            }

            yield return keys[k];
        }
    }

    private static void AddRing(ImmutableArray<Vec3>.Builder vertices, Section cut, int around)
    {
        int half = around / 2;
        Span<Vec3> left = stackalloc Vec3[half + 1];
        for (int j = 0; j <= half; j++)
        {
            (double s, double c) = Math.SinCos(2 * Math.PI * j / around);
            s = j == half ? 0 : s;
            c = 4 * j == around ? 0 : c;
            (double front, double side) = Superellipse.Unit(c, s, cut.Exponent);
            left[j] = new Vec3(front * (front > 0 ? cut.Front : cut.Back), side * cut.HalfBreadth, cut.Height);
        }

        for (int j = 0; j < around; j++)
        {
            Vec3 p = j <= half ? left[j] : left[around - j].MirroredLeftRight();
            vertices.Add(new Vec3(p.X + cut.Middle, p.Y + cut.Side, p.Z));
        }
    }
}
