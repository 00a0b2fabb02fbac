using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Bodies;

/// <summary>The measures of one wearer, barefoot and erect, each with its standard error, as the tables give them.</summary>
/// <remarks>
/// <para>Adults: each measure is the survey's least-squares line on stature, plus the survey's slope on the mass above that
/// expected for the stature. A waist girth given in place of a mass is turned into that mass by the same slope.</para>
/// <para>Children of 3 to 17 years: each measure is the mean share of stature of surveyed children of the sex and age, straight
/// between whole years. No adult line is used for them. Measures that were not taken on children are put between two that were,
/// and are listed in <see cref="Notes"/>.</para>
/// </remarks>
public sealed partial class BodyDimensions
{
    private const double YoungestYears = 3;
    private const double AdultFromYears = 18;
    private const double OldestYears = 110;

    // The survey's lines are not followed farther than this many standard deviations.
    private const double StatureDeviations = 4.5;
    private const double MassDeviationsBelow = 3;
    private const double MassDeviationsAbove = 6;

    private readonly ImmutableDictionary<BodyMeasure, Estimate> _measures;

    private BodyDimensions(
        bool isChild, double stature, double mass, ImmutableDictionary<BodyMeasure, Estimate> measures, ImmutableArray<string> notes)
    {
        IsChild = isChild;
        StatureMetres = stature;
        MassKilograms = mass;
        _measures = measures;
        Notes = notes;
    }

    /// <summary>Gets whether the tables of children were used.</summary>
    public bool IsChild { get; }

    /// <summary>Gets the stature, without shoes. [m]</summary>
    public double StatureMetres { get; }

    /// <summary>Gets the body mass: as given, or as expected. [kg]</summary>
    public double MassKilograms { get; }

    /// <summary>Gets what is assumed or uncertain about these measures, in sentences.</summary>
    public ImmutableArray<string> Notes { get; }

    /// <summary>Gets the measures that are known, in the order of <see cref="BodyMeasure"/>.</summary>
    public IEnumerable<BodyMeasure> Known => _measures.Keys.Order();

    /// <summary>Gets a measure. [m]</summary>
    /// <param name="measure">The measure.</param>
    /// <exception cref="KeyNotFoundException">The tables do not give this measure for this wearer.</exception>
    public double this[BodyMeasure measure] => Estimate(measure).Value;

    /// <summary>Returns a measure with its standard error.</summary>
    /// <param name="measure">The measure.</param>
    /// <exception cref="KeyNotFoundException">The tables do not give this measure for this wearer.</exception>
    public Estimate Estimate(BodyMeasure measure) =>
        _measures.TryGetValue(measure, out Estimate found)
            ? found
            : throw new KeyNotFoundException($"The body tables give no {measure} for this wearer.");

    /// <summary>Works out the measures of a wearer.</summary>
    /// <param name="spec">What is known about the wearer.</param>
    /// <param name="tables">The tables.</param>
    /// <exception cref="ArgumentException">Something given contradicts something else, or lies outside what the tables cover;
    /// the message names it and what is allowed.</exception>
    public static BodyDimensions Of(WearerSpec spec, BodyTables tables)
    {
        ArgumentNullException.ThrowIfNull(spec);
        ArgumentNullException.ThrowIfNull(tables);
        if (spec.StatureMetres is not null && spec.StaturePercentile is not null)
        {
            throw new ArgumentException($"{spec.Name} has both a stature and a percentile; only one may be given.", nameof(spec));
        }

        if (spec.MassKilograms is not null && spec.WaistGirthMetres is not null)
        {
            throw new ArgumentException($"{spec.Name} has both a mass and a waist girth; only one may be given.", nameof(spec));
        }

        if (spec.AgeYears is { } age)
        {
            if (age is >= 0 and < YoungestYears)
            {
                throw new ArgumentException(
                    $"Age is {age} years; it must be at least {YoungestYears}, because too few younger children were measured and an adult body is never scaled down.",
                    nameof(spec));
            }

            Finite.Within(age, YoungestYears, OldestYears, "Age", "years");
            if (age < AdultFromYears)
            {
                return OfChild(spec, age, tables);
            }
        }

        return OfAdult(spec, tables);
    }

    private static BodyDimensions OfAdult(WearerSpec spec, BodyTables tables)
    {
        AdultPercentiles statures = tables.AdultPercentiles[(BodyMeasure.Stature, spec.Sex)];
        List<string> notes = [];
        double stature = spec.StatureMetres ?? statures.At(spec.StaturePercentile ?? 50);
        if (spec.StatureMetres is null && spec.AgeYears >= tables.Assumed("age_loss_from_years"))
        {
            double loss = tables.Assumed(spec.Sex == Sex.Male ? "age_loss_male" : "age_loss_female");
            stature -= loss;
            notes.Add($"Stature of the percentile lowered by {loss * 1000:0} mm for age (assumed loss).");
        }

        double reach = StatureDeviations * statures.StandardDeviation;
        Allow(stature, statures.Mean - reach, statures.Mean + reach, "Stature", "m", spec, "the surveyed adults");
        if (stature < statures.Percentiles[0] || stature > statures.Percentiles[^1])
        {
            notes.Add("Stature is outside the middle 98 % of the survey; the survey's lines are stretched.");
        }

        AdultRegression massLine = tables.AdultRegressions[(BodyMeasure.BodyMass, spec.Sex)];
        double expectedMass = (massLine.SlopePerMetre * stature) + massLine.Intercept;
        double extra = ExtraMass(spec, expectedMass, massLine.StandardError, () =>
        {
            AdultRegression girth = tables.AdultRegressions[(BodyMeasure.WaistGirth, spec.Sex)];
            return ((girth.SlopePerMetre * stature) + girth.Intercept, girth.SlopePerKilogram);
        });
        bool massKnown = spec.MassKilograms is not null || spec.WaistGirthMetres is not null;

        var measures = ImmutableDictionary.CreateBuilder<BodyMeasure, Estimate>();
        foreach (((BodyMeasure measure, Sex sex), AdultRegression line) in tables.AdultRegressions)
        {
            if (sex == spec.Sex)
            {
                measures[measure] = new Estimate(
                    (line.SlopePerMetre * stature) + line.Intercept + (line.SlopePerKilogram * extra),
                    massKnown ? line.StandardErrorGivenMass : line.StandardError);
            }
        }

        measures[BodyMeasure.HeadHeight] = new Estimate(
            stature - measures[BodyMeasure.ChinHeight].Value, measures[BodyMeasure.ChinHeight].StandardError);
        notes.Add("The chin height is derived and about 5 to 10 mm low, which makes the head band that much taller.");
        if (Math.Abs(extra) > 2.33 * massLine.StandardError)
        {
            notes.Add("Mass is outside the middle 98 % of the survey at this stature; breadths and depths are stretched.");
        }

        return new BodyDimensions(false, stature, expectedMass + extra, measures.ToImmutable(), [.. notes]);
    }

    // The mass above that expected for the stature, from a mass or a waist girth if one is given.
    private static double ExtraMass(
        WearerSpec spec, double expectedMass, double deviation, Func<(double Expected, double SlopePerKilogram)> waist)
    {
        double least = expectedMass - (MassDeviationsBelow * deviation);
        double most = expectedMass + (MassDeviationsAbove * deviation);
        if (spec.MassKilograms is { } mass)
        {
            Allow(mass, least, most, "Mass", "kg", spec, "this stature");
            return mass - expectedMass;
        }

        if (spec.WaistGirthMetres is { } girth)
        {
            (double expected, double slope) = waist();
            double extra = (girth - expected) / slope;
            Allow(
                girth,
                expected + (slope * (least - expectedMass)),
                expected + (slope * (most - expectedMass)),
                "Waist girth",
                "m",
                spec,
                "this stature");
            return extra;
        }

        return 0;
    }

    private static void Allow(double value, double low, double high, string name, string unit, WearerSpec spec, string scope)
    {
        if (!(value >= low && value <= high))
        {
            string digits = unit == "kg" ? "0" : "0.00";
            throw new ArgumentOutOfRangeException(
                nameof(spec),
                $"{name} is {value} {unit}; for {scope} it must be from {low.ToString(digits)} to {high.ToString(digits)} {unit}.");
        }
    }
}
