using System.Runtime.CompilerServices;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>A flat convex piece of a face with four corners in order round it; a triangle has two that coincide.</summary>
/// <param name="A">First corner. [m]</param>
/// <param name="B">Second corner, counter-clockwise seen from outside. [m]</param>
/// <param name="C">Third corner. [m]</param>
/// <param name="D">Fourth corner. [m]</param>
public readonly record struct FacetQuad(Vec3 A, Vec3 B, Vec3 C, Vec3 D)
{
    private const double Tie = 1.0 + 1e-9;

    /// <summary>Gets the mean of the corners. [m]</summary>
    public Vec3 CentreMetres => 0.25 * (A + B + C + D);

    /// <summary>Gets the vector area: the outward normal times the area. [m²]</summary>
    public Vec3 AreaVectorSquareMetres => 0.5 * (C - A).Cross(D - B);

    /// <summary>Gets the squared distance from the middle to the farthest corner. [m²]</summary>
    internal double RadiusSquared
    {
        get
        {
            Vec3 centre = CentreMetres;
            return Math.Max(
                Math.Max((A - centre).LengthSquared, (B - centre).LengthSquared),
                Math.Max((C - centre).LengthSquared, (D - centre).LengthSquared));
        }
    }

    /// <summary>Gets whether opposite sides are parallel and equal.</summary>
    internal bool IsParallelogram => (A + C - B - D).LengthSquared <= 1e-18 * (C - A).LengthSquared;

    /// <summary>Splits the piece across its longer direction into two, or into four when both are equally long: the pieces do not
    /// depend on which corner comes first.</summary>
    /// <param name="parts">Receives the parts; room for four.</param>
    /// <returns>The number of parts.</returns>
    internal int Split(Span<FacetQuad> parts)
    {
        double along = (B - A).Length + (D - C).Length;
        double across = (C - B).Length + (A - D).Length;
        Vec3 ab = 0.5 * (A + B);
        Vec3 cd = 0.5 * (C + D);
        Vec3 bc = 0.5 * (B + C);
        Vec3 da = 0.5 * (D + A);
        if (along > across * Tie)
        {
            (parts[0], parts[1]) = (new FacetQuad(A, ab, cd, D), new FacetQuad(ab, B, C, cd));
            return 2;
        }

        if (across > along * Tie)
        {
            (parts[0], parts[1]) = (new FacetQuad(A, B, bc, da), new FacetQuad(da, bc, C, D));
            return 2;
        }

        Vec3 middle = CentreMetres;
        (parts[0], parts[1]) = (new FacetQuad(A, ab, middle, da), new FacetQuad(ab, B, bc, middle));
        (parts[2], parts[3]) = (new FacetQuad(middle, bc, C, cd), new FacetQuad(da, middle, cd, D));
        return 4;
    }
}

/// <summary>The pieces of one face that wait to be summed. Long thin faces are cut across, so that the pieces stay as few as their
/// area and length need.</summary>
internal ref struct FacetPieces
{
    private const int Deepest = 40;
    private const int Most = (3 * Deepest) + 4;

    private Room _room;
    private int _count;
    private int _depth;

    internal FacetPieces(in FacetQuad whole)
    {
        _room[0] = (whole, 0);
        _count = 1;
    }

    /// <summary>Takes the next piece.</summary>
    internal bool TryTake(out FacetQuad quad)
    {
        if (_count == 0)
        {
            quad = default;
            return false;
        }

        (quad, _depth) = _room[--_count];
        return true;
    }

    /// <summary>Puts back the parts of the piece that was taken last; false when it was split too often already.</summary>
    internal bool TrySplit(in FacetQuad quad)
    {
        if (_depth >= Deepest)
        {
            return false;
        }

        Parts parts = default;
        int count = quad.Split(parts);
        while (count-- > 0)
        {
            _room[_count++] = (parts[count], _depth + 1);
        }

        return true;
    }

    [InlineArray(Most)]
    private struct Room
    {
        private (FacetQuad Quad, int Depth) _first;
    }

    [InlineArray(4)]
    private struct Parts
    {
        private FacetQuad _first;
    }
}
