using System.Collections.Immutable;
using SonarGeom.Bodies.Surfaces;

namespace SonarGeom.Bodies;

/// <summary>Measures of children.</summary>
public sealed partial class BodyDimensions
{
    private static BodyDimensions OfChild(WearerSpec spec, double age, BodyTables tables)
    {
        double stature = ChildStatureOf(spec, age, tables);
        List<string> notes =
        [
            "Proportions of children measured in 1975-77; stature percentiles of the year 2000.",
            "Not measured on children, and put between measures that were: heights of crotch, shoulder, chest point, tenth rib, knee and kneecap, depth of the chest; depths of waist and buttocks follow from girth and breadth.",
        ];

        Estimate index = Share(tables, BodyMeasure.BodyMass, spec.Sex, age, out _, out _);
        double expectedMass = index.Value * stature * stature;
        double deviation = index.StandardError * stature * stature;
        double extra = ExtraMass(spec, expectedMass, deviation, () =>
        {
            Estimate girth = Share(tables, BodyMeasure.WaistGirth, spec.Sex, age, out double slope, out _);
            return (girth.Value * stature, slope);
        });
        bool massKnown = spec.MassKilograms is not null || spec.WaistGirthMetres is not null;

        var m = ImmutableDictionary.CreateBuilder<BodyMeasure, Estimate>();
        foreach ((BodyMeasure measure, Sex sex) in tables.ChildProportions.Keys)
        {
            if (sex == spec.Sex && measure != BodyMeasure.BodyMass)
            {
                Estimate share = Share(tables, measure, sex, age, out double slope, out double errorGivenMass);
                m[measure] = new Estimate(
                    (share.Value * stature) + (slope * extra),
                    massKnown ? errorGivenMass : share.StandardError * stature);
            }
        }

        m[BodyMeasure.Stature] = new Estimate(stature, 0);
        m[BodyMeasure.BodyMass] = new Estimate(expectedMass + extra, massKnown ? 0 : deviation);
        FillIn(m, tables, stature);
        return new BodyDimensions(true, stature, expectedMass + extra, m.ToImmutable(), [.. notes]);
    }

    private static double ChildStatureOf(WearerSpec spec, double age, BodyTables tables)
    {
        ImmutableArray<ChildStature> rows = [.. tables.ChildStatures.Where(r => r.Sex == spec.Sex)];
        double At(double percentile) =>
            Between(rows, r => r.AgeYears, age, r => PercentileScale.Interpolate(ChildStature.Levels, r.Percentiles, percentile));

        if (spec.StatureMetres is not { } stature)
        {
            return At(spec.StaturePercentile ?? 50);
        }

        // Twice the way from the median to the first and last percentile: 4.65 standard deviations.
        double median = At(50);
        Allow(stature, median - (2 * (median - At(1))), median + (2 * (At(99) - median)), "Stature", "m", spec, $"the age of {age} years");
        return stature;
    }

    // Measures that the survey of children left out; each lies between two that it took, or follows from them.
    private static void FillIn(ImmutableDictionary<BodyMeasure, Estimate>.Builder m, BodyTables tables, double stature)
    {
        void Set(BodyMeasure measure, double value, BodyMeasure errorFrom) => m[measure] = new Estimate(value, m[errorFrom].StandardError);
        double V(BodyMeasure measure) => m[measure].Value;

        double notch = V(BodyMeasure.SuprasternaleHeight);
        double trunk = notch - V(BodyMeasure.WaistHeight);
        Set(BodyMeasure.ChinHeight, stature - V(BodyMeasure.HeadHeight), BodyMeasure.HeadHeight);
        Set(BodyMeasure.EyeHeight, stature - V(BodyMeasure.EyeToVertex), BodyMeasure.EyeToVertex);
        Set(BodyMeasure.TragionHeight, stature - V(BodyMeasure.TragionToVertex), BodyMeasure.TragionToVertex);
        Set(BodyMeasure.EyeHeightSitting, V(BodyMeasure.SittingHeight) - V(BodyMeasure.EyeToVertex), BodyMeasure.SittingHeight);
        Set(
            BodyMeasure.CervicaleHeight,
            notch + (tables.Assumed("child_cervicale_share") * (V(BodyMeasure.ChinHeight) - notch)),
            BodyMeasure.SuprasternaleHeight);
        Set(BodyMeasure.AcromialHeight, notch, BodyMeasure.SuprasternaleHeight);
        Set(BodyMeasure.ChestHeight, notch - (tables.Assumed("child_chest_share") * trunk), BodyMeasure.AxillaHeight);
        Set(BodyMeasure.TenthRibHeight, V(BodyMeasure.WaistHeight) + (tables.Assumed("child_rib_share") * trunk), BodyMeasure.WaistHeight);
        Set(
            BodyMeasure.CrotchHeight,
            stature - V(BodyMeasure.SittingHeight) + (tables.Assumed("child_crotch_rise_share") * stature),
            BodyMeasure.SittingHeight);
        Set(BodyMeasure.ElbowHeight, notch - V(BodyMeasure.UpperArmLength), BodyMeasure.SuprasternaleHeight);
        Set(BodyMeasure.WristHeight, V(BodyMeasure.ElbowHeight) - V(BodyMeasure.ForearmLength), BodyMeasure.SuprasternaleHeight);
        Set(BodyMeasure.FingertipHeight, V(BodyMeasure.WristHeight) - V(BodyMeasure.HandLength), BodyMeasure.SuprasternaleHeight);
        Set(BodyMeasure.KneeJointHeight, tables.Assumed("child_knee_share") * V(BodyMeasure.TibialHeight), BodyMeasure.TibialHeight);
        Set(BodyMeasure.KneecapHeight, tables.Assumed("child_kneecap_share") * V(BodyMeasure.TibialHeight), BodyMeasure.TibialHeight);
        Set(BodyMeasure.PoplitealHeight, V(BodyMeasure.KneeHeightSitting) - V(BodyMeasure.ThighClearance), BodyMeasure.KneeHeightSitting);
        Set(BodyMeasure.LowerThighGirth, tables.Assumed("child_lower_thigh_share") * V(BodyMeasure.CalfGirth), BodyMeasure.CalfGirth);
        Set(BodyMeasure.HeelBreadth, tables.Assumed("child_heel_share") * V(BodyMeasure.FootBreadth), BodyMeasure.FootBreadth);
        Set(BodyMeasure.ChestDepth, tables.Assumed("child_chest_depth_share") * V(BodyMeasure.ChestBreadth), BodyMeasure.ChestBreadth);
        Depth(BodyMeasure.WaistDepth, BodyMeasure.WaistGirth, BodyMeasure.WaistBreadth, TrunkExponents.Waist);
        Depth(BodyMeasure.ButtockDepth, BodyMeasure.HipGirth, BodyMeasure.HipBreadth, TrunkExponents.Hip);

        void Depth(BodyMeasure depth, BodyMeasure girth, BodyMeasure breadth, double exponent) =>
            m[depth] = new Estimate(
                Superellipse.DepthFrom(V(girth), V(breadth), exponent),
                m[girth].StandardError / 2);
    }

    private static Estimate Share(
        BodyTables tables, BodyMeasure measure, Sex sex, double age, out double slopePerKilogram, out double errorGivenMass)
    {
        ImmutableArray<ChildProportion> rows = tables.ChildProportions[(measure, sex)];
        slopePerKilogram = Between(rows, r => r.AgeYears, age, r => r.SlopePerKilogram);
        errorGivenMass = Between(rows, r => r.AgeYears, age, r => r.StandardErrorGivenMass);
        return new Estimate(
            Between(rows, r => r.AgeYears, age, r => r.Ratio),
            Between(rows, r => r.AgeYears, age, r => r.RatioDeviation));
    }

    // Straight between rows of rising key; the end rows hold beyond the ends.
    private static double Between<T>(ImmutableArray<T> rows, Func<T, double> key, double at, Func<T, double> value)
    {
        int i = 0;
        while (i < rows.Length && key(rows[i]) < at)
        {
            i++;
        }

        if (i == 0 || i == rows.Length)
        {
            return value(rows[Math.Min(i, rows.Length - 1)]);
        }

        double share = (at - key(rows[i - 1])) / (key(rows[i]) - key(rows[i - 1]));
        return ((1 - share) * value(rows[i - 1])) + (share * value(rows[i]));
    }
}
