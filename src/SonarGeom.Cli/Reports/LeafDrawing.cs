using System.Collections.Immutable;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Cli.Reports;

/// <summary>Foliage as leaves to look at.</summary>
internal static class LeafDrawing
{
    private const int Corners = 6;
    private const double LengthOverRadius = 1.4;
    private const double LargestEnlargement = 3;

    /// <summary>
    /// Returns some of the leaves, each a long hexagon of about its area, the same on every call. Where fewer are drawn than there are, they
    /// are drawn up to three times as large. [m]
    /// </summary>
    /// <param name="part">The leaves.</param>
    /// <param name="most">The most leaves drawn, at least 1.</param>
    internal static TriangleMesh Of(FoliagePart part, int most = 1500)
    {
        var foliage = new Foliage(part);
        int drawn = Math.Min(most, foliage.LeafCount);
        double size = part.LeafRadiusMetres * Math.Min(Math.Sqrt((double)foliage.LeafCount / drawn), LargestEnlargement);
        var vertices = ImmutableArray.CreateBuilder<Vec3>(Corners * drawn);
        var facets = ImmutableArray.CreateBuilder<Facet>((Corners - 2) * drawn);
        foreach (Leaf leaf in foliage.Leaves(drawn, seed: 1))
        {
            Vec3 across = (Math.Abs(leaf.Normal.Z) < 0.9 ? Vec3.UnitZ : Vec3.UnitX).Cross(leaf.Normal).Normalized(), along = leaf.Normal.Cross(across);
            int first = vertices.Count;
            for (int corner = 0; corner < Corners; corner++)
            {
                (double sine, double cosine) = Math.SinCos(2 * Math.PI * corner / Corners);
                vertices.Add(leaf.MiddleMetres + (size * ((LengthOverRadius * cosine * across) + (sine / LengthOverRadius * along))));
            }

            for (int corner = 2; corner < Corners; corner++)
            {
                facets.Add(new Facet(first, first + corner - 1, first + corner));
            }
        }

        return new TriangleMesh(vertices.MoveToImmutable(), facets.MoveToImmutable());
    }
}
