using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using SonarGeom.Geometry;

namespace SonarGeom.Coverage.Kernels;

/// <summary>
/// Bounds of a track's amplitude over a tile, for all its phases at once.
/// </summary>
/// <remarks>
/// <para>Let m be the middle between the faces, b half the distance between them, g the vector from m to the tile's centre and
/// h its half extents. Then for every cell of the tile and both faces:</para>
/// <list type="bullet">
/// <item>the distance is at least |g| − Σ|ĝᵢ|hᵢ − b, for a distance is a convex function and lies above its tangent plane, and
/// at most √(|g|² + 2·Σ|gᵢ|hᵢ + |h|²) + b;</item>
/// <item>the distance along the axis is within Σ|aᵢ|hᵢ + b of a·g;</item>
/// <item>the distance from the axis, convex too, is at least that of the centre less Σ|n̂ᵢ|hᵢ + b, n̂ being the unit vector from
/// the axis to the centre, and at most that of the centre plus b and the farthest reach of a cell across the axis.</item>
/// </list>
/// <para>The two latter bound the angle off the axis, and <see cref="FieldBeam"/>'s main lobe and side amplitude then bound the
/// directivity. Bounds are widened by 10⁻⁵ m and by 1/1000 of the amplitude, a hundred times what rounding can do, so that a cell as
/// computed never lies outside them.</para>
/// </remarks>
internal static class TileBounds
{
    /// <summary>Stands for a bound that could not be found.</summary>
    internal const float Unbounded = 1e30f;

    private const float PositionSlack = 1e-5f;
    private const float AmplitudeSlack = 1e-3f;

    internal static void Evaluate<T, V>(
        TileTrack track, FieldLattice lattice, Vec3 centre, float[] constants, float[] upperBounds, float[] lowerBounds)
        where T : IWide<V>
        where V : struct
    {
        Vec3 half = lattice.HalfExtentMetres;
        V hx = T.Broadcast((float)half.X);
        V hy = T.Broadcast((float)half.Y);
        V hz = T.Broadcast((float)half.Z);
        V cx = T.Broadcast((float)centre.X);
        V cy = T.Broadcast((float)centre.Y);
        V cz = T.Broadcast((float)centre.Z);
        V slack = T.Broadcast(PositionSlack);
        V one = T.Broadcast(1f);
        V zero = T.Broadcast(0f);
        V reach = T.Broadcast((float)half.Length);
        int stride = track.Stride;
        ref float rows = ref MemoryMarshal.GetArrayDataReference(track.Rows);
        ref float figures = ref MemoryMarshal.GetArrayDataReference(constants);
        for (int i = 0; i < stride; i += T.Count)
        {
            V gtx = T.Subtract(cx, Row<T, V>(ref rows, i, TileTrack.RowTransmitter));
            V gty = T.Subtract(cy, Row<T, V>(ref rows, i, TileTrack.RowTransmitter + 1));
            V gtz = T.Subtract(cz, Row<T, V>(ref rows, i, TileTrack.RowTransmitter + 2));
            V grx = T.Subtract(cx, Row<T, V>(ref rows, i, TileTrack.RowReceiver));
            V gry = T.Subtract(cy, Row<T, V>(ref rows, i, TileTrack.RowReceiver + 1));
            V grz = T.Subtract(cz, Row<T, V>(ref rows, i, TileTrack.RowReceiver + 2));
            V ax = Row<T, V>(ref rows, i, TileTrack.RowAxis);
            V ay = Row<T, V>(ref rows, i, TileTrack.RowAxis + 1);
            V az = Row<T, V>(ref rows, i, TileTrack.RowAxis + 2);
            V b = Row<T, V>(ref rows, i, TileTrack.RowHalfBaseline);
            V halfOne = T.Broadcast(0.5f);
            V gx = T.Multiply(halfOne, T.Add(gtx, grx));
            V gy = T.Multiply(halfOne, T.Add(gty, gry));
            V gz = T.Multiply(halfOne, T.Add(gtz, grz));

            // Distances.
            V g2 = T.Max(Dot<T, V>(gx, gy, gz, gx, gy, gz), T.Broadcast(1e-8f));
            V perG = KernelMath.ReciprocalRoot<T, V>(g2);
            V g = T.Multiply(g2, perG);
            V side = Dot<T, V>(T.Abs(gx), T.Abs(gy), T.Abs(gz), hx, hy, hz);
            V nearest = T.Subtract(T.Subtract(T.MultiplySubtractFrom(side, perG, g), b), slack);
            V far2 = T.MultiplyAdd(reach, reach, T.MultiplyAdd(side, T.Broadcast(2f), g2));
            V farthest = T.Add(T.MultiplyAdd(far2, KernelMath.ReciprocalRoot<T, V>(far2), b), slack);

            // Along and across the axis.
            V axial = Dot<T, V>(gx, gy, gz, ax, ay, az);
            V axialReach = T.Add(T.Add(Row<T, V>(ref rows, i, TileTrack.RowAxialReach), b), slack);
            V axialHigh = T.Add(axial, axialReach);
            V axialLow = T.Subtract(axial, axialReach);
            V nx = T.MultiplySubtractFrom(axial, ax, gx);
            V ny = T.MultiplySubtractFrom(axial, ay, gy);
            V nz = T.MultiplySubtractFrom(axial, az, gz);
            V n2 = T.Max(Dot<T, V>(nx, ny, nz, nx, ny, nz), T.Broadcast(1e-12f));
            V perN = KernelMath.ReciprocalRoot<T, V>(n2);
            V across = T.Multiply(n2, perN);
            V acrossReach = T.Multiply(Dot<T, V>(T.Abs(nx), T.Abs(ny), T.Abs(nz), hx, hy, hz), perN);
            V bSlack = T.Add(b, slack);
            V acrossLow = T.Max(zero, T.Subtract(T.Subtract(across, acrossReach), bSlack));
            V acrossHigh = T.Add(T.Add(across, Row<T, V>(ref rows, i, TileTrack.RowSidewaysReach)), bSlack);

            // Squared cosines of the smallest and the largest angle off the axis, and the beams there.
            V cosineHigh = Cosine<T, V>(T.Max(axialHigh, zero), acrossLow);
            V cosineLow = Cosine<T, V>(T.Max(axialLow, zero), acrossHigh);
            V beamsHigh = T.Multiply(LobeAbove<T, V>(track.Transmit, cosineHigh), LobeAbove<T, V>(track.Receive, cosineHigh));
            V beamsLow = T.Multiply(LobeBelow<T, V>(track.Transmit, cosineLow), LobeBelow<T, V>(track.Receive, cosineLow));

            // Near the faces nothing is bounded, and distances cannot be split into a tile's and a cell's part.
            V tooNear = T.Multiply(T.Broadcast(0.2f), T.Add(g, reach));
            V isNear = T.WhereAtLeast(tooNear, nearest, one);
            V nearPath = T.Multiply(T.Max(nearest, slack), T.Broadcast(2f));
            V farPath = T.Multiply(farthest, T.Broadcast(2f));
            V centrePath = T.Multiply(g, T.Broadcast(2f));
            Exponents<T, V>(track, nearPath, farPath, centrePath, out V exponentHigh, out V exponentLow, out V exponent, out V decline, out V isBent);
            V spreadHigh = T.Multiply(T.Broadcast(4f * (1 + AmplitudeSlack)), Reciprocal<T, V>(T.Multiply(nearPath, nearPath)));
            V spreadLow = T.Multiply(T.Broadcast(4f * (1 - AmplitudeSlack)), Reciprocal<T, V>(T.Multiply(farPath, farPath)));
            V high = T.Multiply(T.Multiply(beamsHigh, spreadHigh), KernelMath.Exp<T, V>(exponentHigh));
            V low = T.Multiply(T.Multiply(beamsLow, spreadLow), KernelMath.Exp<T, V>(exponentLow));
            high = T.Max(high, T.Multiply(isNear, T.Broadcast(Unbounded)));
            low = T.MultiplySubtractFrom(isNear, low, low);

            // Behind both faces, out of the ranges listened to, or no phase at all.
            V isPhase = Row<T, V>(ref rows, i, TileTrack.RowIsPhase);
            V farthestPath = Row<T, V>(ref rows, i, TileTrack.RowFarthestPath);
            high = T.Multiply(T.WherePositive(axialHigh, high), isPhase);
            high = T.WhereAtLeast(farPath, T.Broadcast(track.NearestPath), T.WhereAtLeast(farthestPath, nearPath, high));
            low = T.Multiply(T.WherePositive(axialLow, low), isPhase);
            V isHeard = T.WhereAtLeast(nearPath, T.Broadcast(track.NearestPath), T.WhereAtLeast(farthestPath, farPath, one));
            V isCut = T.Subtract(one, isHeard);
            low = T.Multiply(low, isHeard);
            T.Store(high, ref MemoryMarshal.GetArrayDataReference(upperBounds), i);
            T.Store(low, ref MemoryMarshal.GetArrayDataReference(lowerBounds), i);
            T.Store(centrePath, ref figures, TileConstant.At(TileConstant.CentrePath, i));
            T.Store(exponent, ref figures, TileConstant.At(TileConstant.CentreExponent, i));
            T.Store(decline, ref figures, TileConstant.At(TileConstant.Decline, i));
            T.Store(axialLow, ref figures, TileConstant.At(TileConstant.InFront, i));
            T.Store(T.Max(isNear, T.Max(isBent, isCut)), ref figures, TileConstant.At(TileConstant.IsSpecial, i));
        }
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static V Row<T, V>(ref float rows, int i, int row)
        where T : IWide<V>
        where V : struct => T.Load(ref rows, TileTrack.At(row, i));

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal static V Dot<T, V>(V ax, V ay, V az, V bx, V by, V bz)
        where T : IWide<V>
        where V : struct => T.MultiplyAdd(ax, bx, T.MultiplyAdd(ay, by, T.Multiply(az, bz)));

    /// <summary>The cosine of the angle with these legs.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V Cosine<T, V>(V along, V across)
        where T : IWide<V>
        where V : struct
    {
        V square = T.MultiplyAdd(along, along, T.MultiplyAdd(across, across, T.Broadcast(1e-12f)));
        return T.Min(T.Multiply(along, KernelMath.ReciprocalRoot<T, V>(square)), T.Broadcast(1f));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V Reciprocal<T, V>(V a)
        where T : IWide<V>
        where V : struct
    {
        V root = KernelMath.ReciprocalRoot<T, V>(a);
        return T.Multiply(root, root);
    }

    /// <summary>No amplitude at this cosine or a smaller one is above this.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V LobeAbove<T, V>(FieldBeam beam, V cosine)
        where T : IWide<V>
        where V : struct
    {
        V lobe = T.Abs(KernelMath.Amplitude<T, V>(beam, cosine));
        V inLobe = T.WhereAtLeast(cosine, T.Broadcast((float)beam.MonotoneFromCosine), lobe);
        return T.Add(T.Max(inLobe, T.Broadcast((float)beam.SideAmplitude)), T.Broadcast((float)beam.Padding));
    }

    /// <summary>No amplitude at this cosine or a larger one is below this.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static V LobeBelow<T, V>(FieldBeam beam, V cosine)
        where T : IWide<V>
        where V : struct
    {
        V lobe = T.Subtract(T.Abs(KernelMath.Amplitude<T, V>(beam, cosine)), T.Broadcast((float)beam.Padding));
        return T.WhereAtLeast(cosine, T.Broadcast((float)beam.MonotoneFromCosine), T.Max(lobe, T.Broadcast(0f)));
    }

    /// <summary>Level over the threshold without spreading and beams: the most and the least between two paths, and at a path
    /// between them with its decline there. [Np]</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static void Exponents<T, V>(
        TileTrack track, V nearPath, V farPath, V centrePath, out V high, out V low, out V exponent, out V decline, out V isBent)
        where T : IWide<V>
        where V : struct
    {
        V atOneMetre = T.Broadcast(track.Exponent);
        V zero = T.Broadcast(0f);
        V one = T.Broadcast(1f);
        decline = T.Broadcast(track.Absorption);
        V near = T.MultiplySubtractFrom(nearPath, decline, atOneMetre);
        V far = T.MultiplySubtractFrom(farPath, decline, atOneMetre);
        exponent = T.MultiplySubtractFrom(centrePath, decline, atOneMetre);
        isBent = zero;
        if (track.KneePaths.Length == 0)
        {
            high = near;
            low = far;
        }
        else
        {
            // A row of straight lines is highest and lowest at an end or at a knee in between.
            V knees = T.Broadcast(-Unbounded);
            V kneesBelow = T.Broadcast(Unbounded);
            for (int k = 0; k < track.KneePaths.Length; k++)
            {
                V path = T.Broadcast(track.KneePaths[k]);
                V slope = T.Broadcast(track.KneeSlopes[k]);
                near = T.MultiplySubtractFrom(T.Max(T.Subtract(nearPath, path), zero), slope, near);
                far = T.MultiplySubtractFrom(T.Max(T.Subtract(farPath, path), zero), slope, far);
                exponent = T.MultiplySubtractFrom(T.Max(T.Subtract(centrePath, path), zero), slope, exponent);
                decline = T.Add(decline, T.WhereAtLeast(nearPath, path, slope));
                V isInside = T.Subtract(T.WhereAtLeast(farPath, path, one), T.WhereAtLeast(nearPath, path, one));
                isBent = T.Max(isBent, isInside);
                V outside = T.Multiply(T.Subtract(one, isInside), T.Broadcast(Unbounded));
                knees = T.Max(knees, T.Subtract(T.Broadcast(track.KneeExponents[k]), outside));
                kneesBelow = T.Min(kneesBelow, T.Add(T.Broadcast(track.KneeExponents[k]), outside));
            }

            high = T.Max(T.Max(near, far), knees);
            low = T.Min(T.Min(near, far), kneesBelow);
        }

        // The cubic about the centre must reach both ends.
        V reach = T.Multiply(T.Abs(decline), T.Max(T.Subtract(farPath, centrePath), T.Subtract(centrePath, nearPath)));
        isBent = T.Max(isBent, T.WhereAtLeast(reach, T.Broadcast(TileTrack.LargestLongExponent), one));
    }
}
