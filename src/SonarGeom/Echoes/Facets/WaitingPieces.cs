using System.Runtime.CompilerServices;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>
/// Pieces of faces that wait until there are enough of them to ask, with many rays at a time, how much of each both ends of a path
/// see. They keep their order.
/// </summary>
internal ref struct WaitingPieces
{
    /// <summary>The most that wait.</summary>
    internal const int Most = 128;

    /// <summary>Nothing is looked for nearer to a surface. [m]</summary>
    internal const double ShadowStartMetres = 5e-4;

    private const int MostSamples = 4;

    private readonly IRayScene _occluders;
    private readonly int _samples;
    private Room _room;

    /// <summary>Initialises the list.</summary>
    /// <param name="occluders">What can stand in the way.</param>
    /// <param name="shadowSamples">How many points of a piece are asked about: 1 for its middle, 4 for the middles of its parts.</param>
    internal WaitingPieces(IRayScene occluders, int shadowSamples)
    {
        _occluders = occluders;
        _samples = shadowSamples == 1 ? 1 : MostSamples;
    }

    /// <summary>Gets how many wait.</summary>
    internal int Count { get; private set; }

    /// <summary>Adds a piece with its normal on the side of transmitter and receiver; there must be room.</summary>
    internal void Add(in FacetQuad piece, Vec3 normal) => _room[Count++] = (piece, normal);

    /// <summary>Adds the echoes of all that wait to a sum.</summary>
    /// <param name="path">The path.</param>
    /// <param name="sum">The sum.</param>
    internal void MoveTo(TriangleAccumulator sum, in BouncePath path)
    {
        Span<double> shares = stackalloc double[Most];
        int count = Count;
        TakeShares(path, shares);
        for (int i = 0; i < count; i++)
        {
            if (shares[i] > 0)
            {
                sum.Add(_room[i].Piece, _room[i].Normal, shares[i], path);
            }
        }
    }

    /// <summary>Writes which part of each piece both ends see, from 0 to 1; then none waits any more.</summary>
    /// <param name="path">The path.</param>
    /// <param name="shares">Receives a number for each.</param>
    internal void TakeShares(in BouncePath path, scoped Span<double> shares)
    {
        // Starting just off the facet keeps it from shadowing itself.
        const double Off = 0.1 * ShadowStartMetres, Towards = 0.5;
        Span<Vec3> points = stackalloc Vec3[Count * _samples];
        Span<bool> isSeen = stackalloc bool[Count * _samples];
        for (int i = 0; i < Count; i++)
        {
            FacetQuad piece = _room[i].Piece;
            Vec3 normal = _room[i].Normal, centre = piece.CentreMetres;
            if (_samples == 1)
            {
                points[i] = centre + (Off * normal);
                continue;
            }

            points[MostSamples * i] = centre + (Towards * (piece.A - centre)) + (Off * normal);
            points[(MostSamples * i) + 1] = centre + (Towards * (piece.B - centre)) + (Off * normal);
            points[(MostSamples * i) + 2] = centre + (Towards * (piece.C - centre)) + (Off * normal);
            points[(MostSamples * i) + 3] = centre + (Towards * (piece.D - centre)) + (Off * normal);
        }

        isSeen.Fill(true);
        path.Out.KeepVisible(points, isSeen, _occluders, ShadowStartMetres);
        path.Back.KeepVisible(points, isSeen, _occluders, ShadowStartMetres);
        for (int i = 0; i < Count; i++)
        {
            int seen = 0;
            for (int j = 0; j < _samples; j++)
            {
                seen += isSeen[(i * _samples) + j] ? 1 : 0;
            }

            shares[i] = (double)seen / _samples;
        }

        Count = 0;
    }

    [InlineArray(Most)]
    private struct Room
    {
        private (FacetQuad Piece, Vec3 Normal) _first;
    }
}
