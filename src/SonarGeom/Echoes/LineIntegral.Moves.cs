using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes;

/// <content>What a move of the faces can do to the integral: see <see cref="FaceMove"/>.</content>
internal readonly partial struct LineIntegral
{
    /// <summary>Adds it for a rod. Along the rod the logarithm of the weight changes by at most 3.5/ρ a metre.</summary>
    internal void AddRodMoves<TWeight>(GrossSum gross, LaneBlock block, in TWeight weight)
        where TWeight : struct, ILineWeight
    {
        double line = Math.Sqrt(Math.Min(_hT2, _hR2)) - FaceMove.LargestMetres;
        if (!(TryPanels(out int eights, out double half, out double range) && line >= 0.5 * FaceMove.LeastRangeMetres))
        {
            gross.CannotMove();
            return;
        }

        double arm = gross.ArmMetres;
        for (int i = 0; i < eights; i++)
        {
            Points points = Panels(i, half);
            Vector512<double> sizes = weight.At(points.Z, points.RT, points.RR, points.Inverse) * (2 * half * Math.Exp(3.5 * half / range));
            Vector512<double> apart = Vector512.Abs(points.Z - Vector512.Create(Nearest)) + Vector512.Create(half);
            Vector512<double> rates = block.LargestWavenumber * FaceMove.PathChange(arm, apart, range, range, range)
                + Vector512.Create((3.5 * arm / (range * range)) + (arm / (line * line)) + (block.LargestAbsorption * 2 * arm / range));
            gross.AddMoves(sizes, sizes * rates, points.CosineT, points.CosineR, range);
        }
    }

    /// <summary>Adds it for the edge of a plate.</summary>
    /// <param name="gross">Takes the sums.</param>
    /// <param name="block">The frequencies.</param>
    /// <param name="numerator">(ρ × s)·dl/4π along the edge. [m²]</param>
    /// <param name="constant">ρ·s at the beginning of the edge. [m²]</param>
    /// <param name="linear">Its slope there. [m]</param>
    /// <param name="rim">What the edges of the plate have in common.</param>
    /// <param name="mirrorAlong">Coordinate of the mirror point's foot on the edge. [m]</param>
    /// <param name="mirrorOff">Distance of the mirror point from the line of the edge. [m]</param>
    internal void AddRimMoves(
        GrossSum gross, LaneBlock block, double numerator, double constant, double linear, in RimMoves rim, double mirrorAlong, double mirrorOff)
    {
        if (!TryPanels(out int eights, out double half, out double range))
        {
            gross.CannotMove();
            return;
        }

        // |ṁ| ≤ still + growing·|m|, per metre.
        double arm = gross.ArmMetres, growing = (2 + (arm / range)) / range, still = growing * 2 * arm / range;
        Vector512<double> halves = Vector512.Create(half);
        for (int i = 0; i < eights; i++)
        {
            Points points = Panels(i, half);
            Vector512<double> cosine = (Vector512.Create(constant) + (points.Z * (Vector512.Create(linear) + points.Z))) * points.Inverse;
            Vector512<double> middle = Vector512.Sqrt(Vector512.Max(Vector512<double>.Zero, Vector512.Create(2.0) + cosine + cosine));
            Vector512<double> aside = Vector512.Max(Vector512<double>.Zero, Vector512.Abs(points.Z - Vector512.Create(mirrorAlong)) - halves);
            Vector512<double> q = Vector512.Sqrt((aside * aside) + Vector512.Create(mirrorOff * mirrorOff));
            Vector512<double> least = q * rim.Heights / ((points.RT + halves) * (points.RR + halves));
            Vector512<double> m = (Vector512.Max(middle - Vector512.Create(2 * half / range), least) * (1 - (growing * FaceMove.LargestMetres)))
                - Vector512.Create(still * FaceMove.LargestMetres);
            if (!Vector512.GreaterThanAll(m, Vector512.Create(1e-6)))
            {
                gross.CannotMove();
                return;
            }

            Vector512<double> inverse = Vector512<double>.One / m;
            Vector512<double> most = inverse * (half / Math.PI) / ((points.RT - halves) * (points.RR - halves));

            // The weight itself: that in the middle, and what it changes by over half the piece.
            Vector512<double> middleWeight = Vector512.Create(2 * half * Math.Abs(numerator)) * points.Inverse
                / Vector512.Max(Vector512.Create(1e-12), (points.RT * points.RR * (Vector512<double>.One + cosine)));
            Vector512<double> sizes = Vector512.Min(most, middleWeight + (most * (inverse + Vector512.Create(2.0)) * (2 * half / range)));
            Vector512<double> along = points.Z - Vector512.Create(rim.ThereAlong);
            Vector512<double> apart = Vector512.Sqrt((along * along) + Vector512.Create(rim.ThereOff * rim.ThereOff))
                + Vector512.Create(half + FaceMove.LargestMetres);
            Vector512<double> rates = block.LargestWavenumber * FaceMove.PathChange(arm, apart, range, rim.RangeThere, rim.Height)
                + Vector512.Create(block.LargestAbsorption * 2 * arm / range);
            Vector512<double> changes = (sizes * rates) + (most * ((inverse * still) + Vector512.Create(growing + (4 / range))));
            gross.AddMoves(sizes, changes, points.CosineT, points.CosineR, range);
        }
    }

    // How many times eight equal pieces the line is cut into, half the length of one, and a lower bound on the distances.
    private bool TryPanels(out int eights, out double half, out double range)
    {
        range = Math.Min(LeastRange(_zT, _hT2), LeastRange(_zR, _hR2)) - FaceMove.LargestMetres;
        eights = (int)Math.Ceiling((High - Low) / (16 * FaceMove.PanelRadians * Math.Max(range, 1e-3)));
        half = (High - Low) / (16 * Math.Max(eights, 1));
        return range >= FaceMove.LeastRangeMetres && eights is > 0 and <= 4;
    }

    private double LeastRange(double foot, double off2)
    {
        double beside = Math.Max(Low - foot, foot - High);
        return Math.Sqrt(off2 + (beside > 0 ? beside * beside : 0));
    }

    private Points Panels(int eight, double half) => PointsAt(Vector512.FusedMultiplyAdd(
        Vector512.Create(1.0, 3, 5, 7, 9, 11, 13, 15), Vector512.Create(half), Vector512.Create(Low + (16 * eight * half))));
}

/// <summary>What the edges of a plate have in common when the faces move.</summary>
/// <param name="Heights">h_T + h_R. [m]</param>
/// <param name="Height">The lesser of both, the move taken off. [m]</param>
/// <param name="ThereAlong">Coordinate along the edge of the foot of the point whose phase does not count. [m]</param>
/// <param name="ThereOff">Distance of that point from the line of the edge. [m]</param>
/// <param name="RangeThere">Least distance of the faces from it. [m]</param>
internal readonly record struct RimMoves(double Heights, double Height, double ThereAlong, double ThereOff, double RangeThere);
