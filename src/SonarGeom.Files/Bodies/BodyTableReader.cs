using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Tables;
using static SonarGeom.Files.Bodies.BodyTableColumns;

namespace SonarGeom.Files.Bodies;

/// <summary>Reads body tables, each file once, and checks that they fit together.</summary>
internal sealed class BodyTableReader(Func<string, InputText> open, FaultList faults)
{
    private const int MostRows = 20_000;
    private const double PerMetre = 1000;

    private ImmutableSortedDictionary<string, BodySource> _sources = ImmutableSortedDictionary<string, BodySource>.Empty;

    internal BodyTables Read()
    {
        _sources = Keyed(
            SourcesFile,
            [Key, Citation, Limits],
            r => KeyValuePair.Create(r.Required(Key), new BodySource(r.Required(Citation), r.Required(Limits))))
            .ToImmutableSortedDictionary(StringComparer.Ordinal);
        BodyTables tables = new()
        {
            Sources = _sources,
            AdultPercentiles = Percentiles(),
            AdultRegressions = Regressions(),
            ChildStatures = ChildStatures(),
            ChildProportions = ChildProportions(),
            SeatHeights = Seats(),
            WalkingExcursions = Excursions(),
            StrideTimings = Strides(),
            GaitCurves = GaitCurves(),
            Assumptions = Assumptions(),
        };
        if (!faults.Any)
        {
            CheckWhole(tables);
        }

        return tables;
    }

    private ImmutableDictionary<(BodyMeasure Measure, Sex Sex), AdultPercentiles> Percentiles() =>
        Keyed(PercentilesFile, [Measure, TheSex, Count, MillimetresOrKilograms, Mean, Deviation, .. AdultLevels, Kind, Definition, Source], r =>
        {
            double unit = r.Required(MillimetresOrKilograms);
            return KeyValuePair.Create(
                (r.Required(Measure), r.Required(TheSex)),
                new AdultPercentiles(
                    r.Required(Count),
                    r.Required(Mean) / unit,
                    r.Required(Deviation) / unit,
                    Rising(r, AdultLevels, unit),
                    r.Or(Definition, string.Empty),
                    Known(r)));
        }).ToImmutableDictionary();

    private ImmutableDictionary<(BodyMeasure Measure, Sex Sex), AdultRegression> Regressions() =>
        Keyed(RegressionFile, [Measure, TheSex, Count, SlopePerMillimetre, Intercept, Correlation, Error, SlopePerKilogram, ErrorGivenMass, Source], r =>
        {
            BodyMeasure measure = r.Required(Measure);
            double unit = measure == BodyMeasure.BodyMass ? 1 : PerMetre;
            r.Required(Count);
            return KeyValuePair.Create(
                (measure, r.Required(TheSex)),
                new AdultRegression(
                    r.Required(SlopePerMillimetre) * PerMetre / unit,
                    r.Required(Intercept) / unit,
                    r.Required(Correlation),
                    r.Required(Error) / unit,
                    r.Required(SlopePerKilogram) / unit,
                    r.Required(ErrorGivenMass) / unit,
                    Known(r)));
        }).ToImmutableDictionary();

    private ImmutableArray<ChildStature> ChildStatures() =>
    [
        .. Keyed(ChildStatureFile, [TheSex, Age, Millimetres, .. ChildLevels, Source], r =>
        {
            r.Required(Millimetres);
            ChildStature row = new(r.Required(TheSex), r.Required(Age), Rising(r, ChildLevels, PerMetre), Known(r));
            return KeyValuePair.Create((row.Sex, row.AgeYears), row);
        }).Select(p => p.Value).OrderBy(r => r.Sex).ThenBy(r => r.AgeYears),
    ];

    private ImmutableDictionary<(BodyMeasure Measure, Sex Sex), ImmutableArray<ChildProportion>> ChildProportions() =>
        Keyed(ChildProportionsFile, [Measure, TheSex, Age, Count, Ratio, RatioDeviation, SlopePerKilogram, ErrorGivenMass, Source], r =>
        {
            // The slope of the mass on itself is 1, without a unit.
            BodyMeasure measure = r.Required(Measure);
            double unit = measure == BodyMeasure.BodyMass ? 1 : PerMetre;
            ChildProportion row = new(
                r.Required(Age),
                r.Required(Count),
                r.Required(Ratio),
                r.Required(RatioDeviation),
                r.Required(SlopePerKilogram) / unit,
                r.Required(ErrorGivenMass) / unit,
                Known(r));
            return KeyValuePair.Create((measure, r.Required(TheSex), row.AgeYears), row);
        })
        .GroupBy(p => (p.Key.Item1, p.Key.Item2), p => p.Value)
        .ToImmutableDictionary(g => g.Key, g => g.OrderBy(r => r.AgeYears).ToImmutableArray());

    private ImmutableDictionary<(WheelchairKind Kind, Sex Sex), SeatHeight> Seats() =>
        Keyed(SeatsFile, [Device, TheSex, Count, SeatMean, SeatDeviation, Source], r =>
        {
            r.Required(Count);
            return KeyValuePair.Create(
                (r.Required(Device), r.Required(TheSex)),
                new SeatHeight(r.Required(SeatMean) / PerMetre, r.Required(SeatDeviation) / PerMetre, Known(r)));
        }).ToImmutableDictionary();

    private ImmutableArray<WalkingExcursion> Excursions() =>
    [
        .. Keyed(ExcursionsFile, [Quantity, MetresOrDegrees, Speed, PeakToPeak, Cycles, Phase, Source, Confidence], r =>
        {
            WalkingExcursion row = new(
                r.Required(Quantity),
                r.Required(Speed),
                r.Required(PeakToPeak),
                r.Required(Cycles),
                r.Required(Phase),
                r.Required(MetresOrDegrees),
                Known(r),
                r.Required(Confidence));
            return KeyValuePair.Create((row.Quantity, row.SpeedMetresPerSecond), row);
        }).Select(p => p.Value).OrderBy(r => r.Quantity, StringComparer.Ordinal).ThenBy(r => r.SpeedMetresPerSecond),
    ];

    private ImmutableArray<StrideTiming> Strides() =>
    [
        .. Keyed(StridesFile, [TheSex, AgeFrom, Pace, Speed, Stride, Stance, StepWidth, Source], r =>
        {
            StrideTiming row = new(
                r.Required(TheSex),
                r.Required(AgeFrom),
                r.Required(Speed),
                r.Required(Stride),
                r.Required(Stance),
                r.Required(StepWidth),
                Known(r));
            return KeyValuePair.Create((row.Sex, row.AgeFromYears, r.Required(Pace)), row);
        }).Select(p => p.Value).OrderBy(r => r.Sex).ThenBy(r => r.AgeFromYears).ThenBy(r => r.SpeedMetresPerSecond),
    ];

    private ImmutableArray<GaitCurve> GaitCurves() =>
    [
        .. Keyed(GaitFile, [Joint, Pace, Speed, .. Harmonics, Source, Confidence], r =>
        {
            GaitCurve row = new(
                r.Required(Joint), r.Required(Speed), [.. Harmonics.Select(c => r.Required(c))], Known(r), r.Required(Confidence));
            return KeyValuePair.Create((row.Joint, r.Required(Pace)), row);
        }).Select(p => p.Value).OrderBy(r => r.Joint).ThenBy(r => r.SpeedMetresPerSecond),
    ];

    private ImmutableSortedDictionary<string, Assumption> Assumptions() =>
        Keyed(
            AssumptionsFile,
            [Key, Value, AnyUnit, Source, Confidence, Meaning],
            r => KeyValuePair.Create(
                r.Required(Key),
                new Assumption(r.Required(Value), r.Required(AnyUnit), Known(r), r.Required(Confidence), r.Required(Meaning))))
            .ToImmutableSortedDictionary(StringComparer.Ordinal);

    private static ImmutableArray<double> Rising(TableRow row, ImmutableArray<Column<double>> columns, double unit)
    {
        ImmutableArray<double> values = [.. columns.Select(c => row.Required(c) / unit)];
        for (int i = 1; i < values.Length; i++)
        {
            if (values[i] < values[i - 1])
            {
                row.Fault(columns[i], $"{columns[i].Name} is {row.Text(columns[i])}, less than {columns[i - 1].Name}; percentiles must rise.");
                break;
            }
        }

        return values;
    }

    private string Known(TableRow row)
    {
        string source = row.Required(Source);
        if (source.Length > 0 && _sources.Count > 0 && !_sources.ContainsKey(source))
        {
            row.Fault(Source, $"source is {PlacedValue.Short(source)}; it must be one of the keys in {SourcesFile}: {string.Join(", ", _sources.Keys)}.");
        }

        return source;
    }

    private Dictionary<TKey, TValue> Keyed<TKey, TValue>(string file, IReadOnlyList<Column> columns, Func<TableRow, KeyValuePair<TKey, TValue>> make)
        where TKey : notnull
    {
        Dictionary<TKey, TValue> found = [];
        try
        {
            TableReader.Read(open(file), columns, MostRows, faults, row =>
            {
                KeyValuePair<TKey, TValue> made = make(row);
                if (!row.HasFault && !found.TryAdd(made.Key, made.Value))
                {
                    row.Fault($"The row says again what a row before it says ({made.Key}); keep one of them.");
                }

                return made;
            });
        }
        catch (InvalidInputException e)
        {
            faults.AddRange(e);
        }

        return found;
    }

    // Everything that building a body asks for must be there, so that a gap is told by file and not while computing.
    private void CheckWhole(BodyTables tables)
    {
        foreach (Sex sex in Enum.GetValues<Sex>())
        {
            string who = sex == Sex.Male ? "male" : "female";
            Demand(tables.AdultPercentiles.ContainsKey((BodyMeasure.Stature, sex)), PercentilesFile, $"The table has no row for stature, {who}; it must have one.");
            foreach (BodyMeasure measure in RequiredMeasures.OfAdults)
            {
                Demand(tables.AdultRegressions.ContainsKey((measure, sex)), RegressionFile, $"The table has no row for {Measure.Word(measure)}, {who}; it must have one.");
            }

            foreach (BodyMeasure measure in RequiredMeasures.OfChildren)
            {
                Demand(tables.ChildProportions.ContainsKey((measure, sex)), ChildProportionsFile, $"The table has no row for {Measure.Word(measure)}, {who}; it must have at least one.");
            }

            Demand(tables.ChildStatures.Any(r => r.Sex == sex), ChildStatureFile, $"The table has no row for {who}; it must have at least one.");
            Demand(tables.StrideTimings.Any(r => r.Sex == sex), StridesFile, $"The table has no row for {who}; it must have at least one.");
            foreach (WheelchairKind kind in Enum.GetValues<WheelchairKind>())
            {
                Demand(tables.SeatHeights.ContainsKey((kind, sex)), SeatsFile, $"The table has no row for {Device.Word(kind)}, {who}; it must have one.");
            }
        }

        foreach (GaitJoint joint in Enum.GetValues<GaitJoint>())
        {
            Demand(tables.GaitCurves.Any(r => r.Joint == joint), GaitFile, $"The table has no row for {Joint.Word(joint)}; it must have at least one.");
        }

        foreach (string key in RequiredMeasures.Assumptions)
        {
            Demand(tables.Assumptions.ContainsKey(key), AssumptionsFile, $"The table has no row for {key}; it must have one.");
        }

        foreach (string quantity in RequiredMeasures.Excursions)
        {
            Demand(tables.WalkingExcursions.Any(r => r.Quantity == quantity), ExcursionsFile, $"The table has no row for {quantity}; it must have at least one.");
        }
    }

    private void Demand(bool isThere, string file, string message)
    {
        if (!isThere)
        {
            faults.Add(new Fault(open(file).Name, null, null, null, message));
        }
    }
}
