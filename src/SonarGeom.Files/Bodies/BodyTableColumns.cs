using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Files.Shapes;
using SonarGeom.Files.Tables;

namespace SonarGeom.Files.Bodies;

/// <summary>The files and columns of the body tables.</summary>
internal static class BodyTableColumns
{
    internal const string PercentilesFile = "adult_percentiles.csv";
    internal const string RegressionFile = "adult_regression.csv";
    internal const string ChildStatureFile = "child_stature.csv";
    internal const string ChildProportionsFile = "child_proportions.csv";
    internal const string SeatsFile = "wheelchair_seats.csv";
    internal const string ExcursionsFile = "walking_excursions.csv";
    internal const string StridesFile = "stride_timing.csv";
    internal const string GaitFile = "gait_curves.csv";
    internal const string AssumptionsFile = "assumptions.csv";
    internal const string SourcesFile = "sources.csv";

    private static readonly NumberShape Size = new(0, 5000, aboveLeast: true);
    private static readonly NumberShape Spread = new(0, 1000);
    private static readonly NumberShape Share = new(0, 1);
    private static readonly TextShape Words = new(1000);

    internal static readonly Column<BodyMeasure> Measure = new("measure", ChoiceShape.OfEnum<BodyMeasure>(), isRequired: true);
    internal static readonly Column<Sex> TheSex = new("sex", ChoiceShape.OfEnum<Sex>(), isRequired: true);
    internal static readonly Column<int> Count = new("n", new WholeNumberShape(1, 10_000_000), isRequired: true);
    internal static readonly Column<string> Source = new("source", Words, isRequired: true);
    internal static readonly Column<string> Confidence = new("confidence", Words, isRequired: true);

    // The value of a unit says by what a tabled number is divided: lengths are tabled in millimetres.
    internal static readonly Column<double> MillimetresOrKilograms = new("unit", new ChoiceShape<double>([("mm", 1000), ("kg", 1)]), isRequired: true);
    internal static readonly Column<double> Mean = new("mean", Size, isRequired: true);
    internal static readonly Column<double> Deviation = new("sd", Spread, isRequired: true);
    internal static readonly Column<string> Kind = new("kind", Words, isRequired: true);
    internal static readonly Column<string> Definition = new("definition", Words);
    internal static readonly ImmutableArray<Column<double>> AdultLevels = Levels(AdultPercentiles.Levels);
    internal static readonly ImmutableArray<Column<double>> ChildLevels = Levels(ChildStature.Levels);

    internal static readonly Column<double> SlopePerMillimetre = new("slope_per_mm_stature", new NumberShape(-10, 10), isRequired: true);
    internal static readonly Column<double> Intercept = new("intercept", new NumberShape(-5000, 5000), isRequired: true);
    internal static readonly Column<double> Correlation = new("r", new NumberShape(-1, 1), isRequired: true);
    internal static readonly Column<double> Error = new("see", Spread, isRequired: true);
    internal static readonly Column<double> SlopePerKilogram = new("slope_per_kg_mass", new NumberShape(-100, 100), isRequired: true);
    internal static readonly Column<double> ErrorGivenMass = new("see_given_mass", Spread, isRequired: true);

    internal static readonly Column<int> Age = new("age_years", new WholeNumberShape(0, 20), isRequired: true);
    internal static readonly Column<string> Millimetres = new("unit", new ChoiceShape<string>([("mm", "mm")]), isRequired: true);
    internal static readonly Column<double> Ratio = new("ratio_to_stature", new NumberShape(0, 60, aboveLeast: true), isRequired: true);
    internal static readonly Column<double> RatioDeviation = new("ratio_sd", new NumberShape(0, 20), isRequired: true);

    internal static readonly Column<WheelchairKind> Device = new("device", ChoiceShape.OfEnum<WheelchairKind>(), isRequired: true);
    internal static readonly Column<double> SeatMean = new("occupied_seat_height_mean_mm", new NumberShape(200, 1000), isRequired: true);
    internal static readonly Column<double> SeatDeviation = new("occupied_seat_height_sd_mm", Spread, isRequired: true);

    internal static readonly Column<string> Quantity = new("quantity", Words, isRequired: true);
    internal static readonly Column<string> MetresOrDegrees = new("unit", new ChoiceShape<string>([("m", "m"), ("deg", "deg")]), isRequired: true);
    internal static readonly Column<double> Speed = new("speed_m_s", new NumberShape(0, 5, aboveLeast: true), isRequired: true);
    internal static readonly Column<double> PeakToPeak = new("peak_to_peak", new NumberShape(0, 90), isRequired: true);
    internal static readonly Column<int> Cycles = new("cycles_per_stride", new WholeNumberShape(1, 2), isRequired: true);
    internal static readonly Column<double> Phase = new("phase_of_maximum", Share, isRequired: true);

    internal static readonly Column<int> AgeFrom = new("age_from_years", new WholeNumberShape(0, 120), isRequired: true);
    internal static readonly Column<string> Pace = new("pace", Words, isRequired: true);
    internal static readonly Column<double> Stride = new("stride_s", new NumberShape(0.2, 5), isRequired: true);
    internal static readonly Column<double> Stance = new("stance_share", Share, isRequired: true);
    internal static readonly Column<double> StepWidth = new("step_width_m", Share, isRequired: true);

    internal static readonly Column<GaitJoint> Joint = new("joint", ChoiceShape.OfEnum<GaitJoint>(), isRequired: true);
    internal static readonly ImmutableArray<Column<double>> Harmonics =
    [
        Harmonic("a0"),
        .. Enumerable.Range(1, GaitCurve.Harmonics).SelectMany(k => new[] { Harmonic($"a{k}"), Harmonic($"b{k}") }),
    ];

    internal static readonly Column<string> Key = new("key", Words, isRequired: true);
    internal static readonly Column<double> Value = new("value", new NumberShape(-1000, 1000), isRequired: true);
    internal static readonly Column<string> AnyUnit = new("unit", Words, isRequired: true);
    internal static readonly Column<string> Meaning = new("meaning", Words, isRequired: true);
    internal static readonly Column<string> Citation = new("citation", Words, isRequired: true);
    internal static readonly Column<string> Limits = new("limits", Words, isRequired: true);

    private static Column<double> Harmonic(string name) => new(name, new NumberShape(-90, 90), isRequired: true);

    private static ImmutableArray<Column<double>> Levels(ImmutableArray<double> levels) =>
        [.. levels.Select(l => new Column<double>($"p{l:0}", Size, isRequired: true))];
}
