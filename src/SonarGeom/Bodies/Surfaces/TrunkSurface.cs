using SonarGeom.Geometry;

namespace SonarGeom.Bodies.Surfaces;

/// <summary>Thorax, pelvis and neck. Breadths and depths at the chest point, the navel and the hips are the tabled ones.</summary>
internal static class TrunkSurface
{
    private const int Around = 24;

    // How far each half of the trunk runs into the other, so that no gap opens when the wearer stoops.
    private const double WaistOverlapMetres = 0.06;

    internal static TriangleMesh Thorax(Skeleton s)
    {
        BodyDimensions d = s.Dimensions;
        double depth = d[BodyMeasure.ChestDepth];
        double acromion = s.Height(BodyMeasure.AcromialHeight);
        double shoulder = d[BodyMeasure.BiacromialBreadth] / 2;
        double top = s.Height(BodyMeasure.CervicaleHeight);
        Section waist = Waist(s);
        var chest = new Section(
            s.Height(BodyMeasure.ChestHeight), 0, depth / 2, depth / 2, 0, d[BodyMeasure.ChestBreadth] / 2, TrunkExponents.Chest);
        double rib = Math.Min(s.Height(BodyMeasure.TenthRibHeight), 0.5 * (waist.Height + chest.Height));
        Section[] keys =
        [
            waist,
            Mix(waist, chest, 0.45, rib),
            chest,
            new(
                s.Height(BodyMeasure.AxillaHeight),
                -0.02 * depth,
                0.465 * depth,
                0.49 * depth,
                0,
                (0.35 * chest.HalfBreadth) + (0.65 * shoulder),
                TrunkExponents.Chest),
            new(acromion - (1.0 * s.UpperArmRadius), -0.06 * depth, 0.38 * depth, 0.41 * depth, 0, 0.97 * shoulder, 2.4),
            new(acromion - (0.15 * s.UpperArmRadius), 0.6 * s.NeckAhead, 0.27 * depth, 0.28 * depth, 0, 0.88 * shoulder, 2),
            new(
                acromion + (0.45 * (top - acromion)),
                s.NeckAhead,
                1.1 * s.NeckRadius,
                1.0 * s.NeckRadius,
                0,
                Math.Max(0.44 * shoulder, 1.2 * s.NeckRadius)),
            new(acromion + (0.85 * (top - acromion)), s.NeckAhead, 0.9 * s.NeckRadius, 0.9 * s.NeckRadius, 0, 1.0 * s.NeckRadius),
        ];
        return Loft.Through(keys, 15, Around, WaistOverlapMetres, 0.1 * s.NeckRadius, lowerIsFull: true);
    }

    internal static TriangleMesh Pelvis(Skeleton s)
    {
        BodyDimensions d = s.Dimensions;
        double depth = d[BodyMeasure.ButtockDepth];
        double hip = d[BodyMeasure.HipBreadth] / 2;
        double crotch = s.Height(BodyMeasure.CrotchHeight);
        double trochanter = s.Height(BodyMeasure.TrochanterionHeight);
        Section waist = Waist(s);
        var hips = new Section(trochanter, -0.02 * depth, 0.48 * depth, 0.52 * depth, 0, hip, TrunkExponents.Hip);
        double cap = 0.55 * Math.Max(0.02, trochanter - crotch);
        Section[] keys =
        [
            new(crotch + cap, -0.03 * depth, 0.45 * depth, 0.50 * depth, 0, 0.96 * hip, TrunkExponents.Hip),
            hips,
            Mix(hips, waist, 0.45, trochanter + (0.55 * (waist.Height - trochanter))),
            waist,
        ];
        return Loft.Through(keys, 6, Around, cap, WaistOverlapMetres, upperIsFull: true);
    }

    internal static TriangleMesh Neck(Skeleton s)
    {
        double r = s.NeckRadius;
        double low = s.Height(BodyMeasure.SuprasternaleHeight);
        double high = s.Height(BodyMeasure.ChinHeight);
        double ahead = s.HeadAhead - (0.08 * s.Dimensions[BodyMeasure.HeadLength]);
        Section[] keys =
        [
            Section.Round(low - (0.3 * r), 0.75 * s.NeckAhead, 0, 1.02 * r),
            Section.Round(low + (0.6 * (high - low)), (0.5 * s.NeckAhead) + (0.5 * ahead), 0, r),
            Section.Round(high + (0.25 * r), ahead, 0, 0.98 * r),
        ];
        return Loft.Through(keys, 5, 16, 0.5 * r, 0.8 * r);
    }

    private static Section Waist(Skeleton s)
    {
        double depth = s.Dimensions[BodyMeasure.WaistDepth];

        // The back is hollow here: more of the depth lies ahead of the plumb line.
        return new Section(
            s.Height(BodyMeasure.WaistHeight),
            0.06 * depth,
            depth / 2,
            depth / 2,
            0,
            s.Dimensions[BodyMeasure.WaistBreadth] / 2,
            TrunkExponents.Waist);
    }

    private static Section Mix(Section a, Section b, double share, double height)
    {
        double[] from = a.ToArray();
        double[] to = b.ToArray();
        return Section.FromArray(height, [.. from.Zip(to, (x, y) => ((1 - share) * x) + (share * y))]);
    }
}
