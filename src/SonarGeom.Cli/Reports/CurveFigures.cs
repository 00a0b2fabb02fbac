using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Cli.Results;
using SonarGeom.Coverage;
using SonarGeom.Layouts;
using SonarGeom.Quantities;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Studies;
using SonarGeom.Transducers;
using PolarPoint = SonarGeom.Rendering.Figures.PolarPoint;

namespace SonarGeom.Cli.Reports;

/// <summary>Charts of shares and levels.</summary>
internal static class CurveFigures
{
    private const int Width = 1000;

    private static readonly HatchPattern[] BarHatches =
        [HatchPattern.None, HatchPattern.Rising, HatchPattern.Dots, HatchPattern.Falling, HatchPattern.Lattice, HatchPattern.Upright, HatchPattern.Level];

    private static readonly Colour[] BarColours =
    [
        Colour.FromHex("9fd0c3"), Colour.FromHex("f3c78f"), Colour.FromHex("a9bdf6"), Colour.FromHex("e3b4d3"), Colour.FromHex("d8d29a"),
        Colour.FromHex("c9c9d6"), Colour.FromHex("e7c0b4"),
    ];

    /// <summary>Returns the share of each band warned in time, a bar for each probe.</summary>
    internal static BarFigure Bands(StudyReport report) => Shares(
        [.. report.Maps.Select(m => (m.Probe.Name, m.Shares()))],
        "Warned in time, by height band and probe", BandsFinding(report), FigureWords.Conditions(report));

    /// <summary>Says which band and probe fares worst.</summary>
    internal static string BandsFinding(StudyReport report)
    {
        string[] never = [.. report.Maps.Where(m => m.Shares().All(s => s.WarnedCells == 0)).Select(m => m.Probe.Name)];
        BandShare head = report.Maps.Select(m => m.ShareOf(HeightBand.Head)).MinBy(s => s.WarnedFraction)!;
        string worst = report.Maps.First(m => m.ShareOf(HeightBand.Head).WarnedFraction == head.WarnedFraction).Probe.Name;
        return never.Length > 0
            ? $"Nowhere on the silhouette warned of in time: {FigureWords.Listed(never)}."
            : $"At head height {worst} fares worst: {FigureWords.Percent(head.WarnedFraction)} warned in time.";
    }

    /// <summary>Returns the share of each band warned in time, a bar for each wearer.</summary>
    internal static BarFigure Wearers(StudyReport report) => Shares(
        [.. report.Wearers.Select(w => (w.Wearer, w.Shares))],
        $"Warned in time on other wearers: {report.Wearers[0].ProbeName}", WearersFinding(report),
        $"Same layout put on each wearer; {report.Wearers[0].ProbeName}; cells of 5 cm.");

    /// <summary>Says on whom the head fares worst.</summary>
    internal static string WearersFinding(StudyReport report)
    {
        WearerShare worst = report.Wearers.MinBy(w => w.Shares[0].WarnedFraction)!, best = report.Wearers.MaxBy(w => w.Shares[0].WarnedFraction)!;
        return worst.Shares[0].WarnedFraction == best.Shares[0].WarnedFraction
            ? $"The head band is warned in time to {FigureWords.Percent(worst.Shares[0].WarnedFraction)} on every wearer computed."
            : $"The head band fares worst on {worst.Wearer} ({FigureWords.Percent(worst.Shares[0].WarnedFraction)} warned in time) and best on {best.Wearer} ({FigureWords.Percent(best.Shares[0].WarnedFraction)}).";
    }

    /// <summary>Returns bars for each height band, one for each of several things compared.</summary>
    internal static BarFigure Shares(
        IReadOnlyList<(string Name, ImmutableArray<BandShare> Shares)> things, string title, string finding, string footnote) => new(
        [.. things.Select((t, i) => new BarPart(t.Name, BarColours[i % BarColours.Length], BarHatches[(i + (i / BarColours.Length)) % BarHatches.Length]))],
        [.. FigureWords.Bands.Select((b, k) => new BarRow(Words.Of(b), [.. things.Select(t => t.Shares[k].Cells == 0 ? double.NaN : 100 * t.Shares[k].WarnedFraction)]))],
        new("Share of the silhouette's cells in the band warned in time", "%") { From = 0, To = 100 })
        {
            Title = title,
            Finding = finding,
            Arrangement = BarArrangement.SideBySide,
            WidthPixels = Width,
            Footnotes = [footnote],
        };

    /// <summary>Returns head share against the tilt of one sensor.</summary>
    internal static LineFigure Tilt(TiltCurve curve)
    {
        ImmutableArray<PlotPoint> Line(Func<TiltPoint, double> share) => [.. curve.Points.Select(p => new PlotPoint(p.TiltDegrees, 100 * share(p)))];
        var windows = ImmutableArray.CreateBuilder<AxisWindow>();
        if (!double.IsNaN(curve.WindowLowDegrees))
        {
            windows.Add(new($"keeps both, {Degrees(curve.WindowLowDegrees)} to {Degrees(curve.WindowHighDegrees)}", curve.WindowLowDegrees, curve.WindowHighDegrees, true)
            {
                Colour = Colour.FromHex("1c6e3c"),
            });
        }

        windows.AddRange(FloorStretches(curve));
        return new(
            [new("whole layout", Line(p => p.HeadShareFraction)), new($"{curve.Sensor} alone", Line(p => p.SensorAloneHeadShareFraction))],
            new($"Tilt of {curve.Sensor}, positive up", "°"),
            new("Head band warned in time", "%") { From = 0, To = 100 })
        {
            Title = $"Tilt curve of {curve.Sensor}: {curve.ProbeName}",
            Finding = TiltFinding(curve),
            Windows = windows.ToImmutable(),
            ReferenceLines = [new($"as mounted, {Degrees(curve.CurrentTiltDegrees)}", curve.CurrentTiltDegrees, true, new(Colour.Ink, DashPattern.Dashed, 2))],
            WidthPixels = Width,
            PlotHeightPixels = 340,
            Footnotes = ["Each point is a full evaluation over the stride; the other sensors stay as they are. False floor echo: the bare floor reaches the threshold."],
        };
    }

    /// <summary>Says what a tilt curve shows.</summary>
    internal static string TiltFinding(TiltCurve curve)
    {
        TiltPoint now = curve.Points.MinBy(p => Math.Abs(p.TiltDegrees - curve.CurrentTiltDegrees))!;
        string current = $"As mounted ({FigureWords.Tilt(curve.CurrentTiltDegrees)}) the layout warns of {FigureWords.Percent(now.HeadShareFraction)} of the head band in time, "
            + $"{curve.Sensor} alone of {FigureWords.Percent(now.SensorAloneHeadShareFraction)}.";
        return double.IsNaN(curve.WindowLowDegrees)
            ? $"No tilt computed keeps both the head band and a silent floor. {current}"
            : $"Any tilt from {FigureWords.Tilt(curve.WindowLowDegrees)} to {FigureWords.Tilt(curve.WindowHighDegrees)} keeps the best head band ({curve.WindowHighDegrees - curve.WindowLowDegrees:0}° of play) and a silent floor. {CostWithin(curve, now)}{current}";
    }

    // What a tilt of the window would cost elsewhere: the obstacles and the bands that the best head band does not show.
    private static string CostWithin(TiltCurve curve, TiltPoint now)
    {
        TiltPoint[] within = [.. curve.Points.Where(p => p.TiltDegrees >= curve.WindowLowDegrees && p.TiltDegrees <= curve.WindowHighDegrees)];
        string[] lost = [.. within.SelectMany(p => p.Lost).Distinct().Select(id => $"{id} ({FigureWords.Listed(Stretches(within, p => p.Lost.Contains(id)))})")];
        string[] bands = [.. now.Shares.Select(s =>
            {
                TiltPoint worst = within.MinBy(p => p.ShareOf(s.Band))!;
                return (s.Band, Was: s.WarnedFraction, Least: worst.ShareOf(s.Band), worst.TiltDegrees);
            })
            .Where(b => b.Was - b.Least > 0.02)
            .Select(b => $"{b.Band.ToString().ToLowerInvariant()} {FigureWords.Percent(b.Was)} to {FigureWords.Percent(b.Least)} at {FigureWords.Tilt(b.TiltDegrees)}")];
        return (lost.Length, bands.Length) switch
        {
            (0, 0) => "No tilt in it loses an obstacle or 2 % of a band that is kept as mounted. ",
            (0, _) => $"It costs bands: {string.Join("; ", bands)}. ",
            (_, 0) => $"It costs obstacles: {string.Join(", ", lost)}. ",
            _ => $"It costs obstacles: {string.Join(", ", lost)}; and bands: {string.Join("; ", bands)}. ",
        };
    }

    // Tilts next to each other that have something in common, told as one stretch.
    private static List<string> Stretches(TiltPoint[] points, Func<TiltPoint, bool> has)
    {
        var told = new List<string>();
        for (int i = 0; i < points.Length; i++)
        {
            int first = i;
            while (i < points.Length && has(points[i]))
            {
                i++;
            }

            if (i > first)
            {
                string from = FigureWords.Tilt(points[first].TiltDegrees), to = FigureWords.Tilt(points[i - 1].TiltDegrees);
                told.Add(i - first == 1 ? $"at {from}" : $"from {from} to {to}");
            }
        }

        return told;
    }

    /// <summary>Returns the floor margin of all sensors against their tilt.</summary>
    internal static LineFigure FloorTilt(StudyReport report) => new(
        [.. report.TiltCurves.Select(c => new LineSeries(
            c.Sensor, [.. c.Points.Select(p => new PlotPoint(p.TiltDegrees, p.FloorMarginDecibels <= -200 ? double.NaN : p.FloorMarginDecibels))]))],
        new("Tilt of the sensor, positive up", "°"),
        new("Margin of the floor echo", "dB"))
    {
        Title = $"Floor echo against tilt: {FigureWords.Ground(report.Posed)}",
        Finding = FloorFinding(report),
        ReferenceLines = [new("heard from here up: false alert", 0, false, new(Colour.FromHex("b00000"), DashPattern.LongDashed, 2.5))],
        WidthPixels = Width,
        PlotHeightPixels = 380,
        Footnotes = [$"Largest margin over the stride. {FigureWords.Capital(FigureWords.Ground(report.Posed))}{(report.Posed.Ground is { } ground ? $": {ground.Confidence}" : string.Empty)}."],
    };

    /// <summary>Says which sensors hear the floor at which tilts.</summary>
    internal static string FloorFinding(StudyReport report)
    {
        string[] loud = [.. report.TiltCurves.Where(c => c.Points.Any(p => p.FloorMarginDecibels >= 0)).Select(c =>
        {
            double[] at = [.. c.Points.Where(p => p.FloorMarginDecibels >= 0).Select(p => p.TiltDegrees)];
            return $"{c.Sensor} at tilts from {FigureWords.Tilt(at.Min())} to {FigureWords.Tilt(at.Max())}";
        })];
        return loud.Length == 0
            ? "No sensor hears the bare floor at any tilt computed."
            : $"The bare floor is heard by {FigureWords.Listed(loud)}.";
    }

    /// <summary>Returns the shares by direction of approach.</summary>
    internal static LineFigure Directions(StudyReport report) => new(
        [.. FigureWords.Bands.Select((b, k) => new LineSeries(
            Words.Of(b), [.. report.Azimuths.Select(a => new PlotPoint(a.AzimuthDegrees, 100 * a.Shares[k].WarnedFraction))]))],
        new("Direction from which it comes, positive left", "°") { IsReversed = true, Ticks = [.. report.Azimuths.Select(a => a.AzimuthDegrees)] },
        new("Warned in time", "%") { From = 0, To = 100 })
    {
        Title = $"Hazard from another direction: {report.Scenario.Probes[0].Name}",
        Finding = DirectionsFinding(report),
        WidthPixels = Width,
        PlotHeightPixels = 400,
        Footnotes = ["The probe comes straight at the wearer from the stated direction at walking speed and faces along its path; cells of 8 cm."],
    };

    /// <summary>Says how far to the sides the head is warned.</summary>
    internal static string DirectionsFinding(StudyReport report)
    {
        AzimuthShare ahead = report.Azimuths.MinBy(a => Math.Abs(a.AzimuthDegrees))!, worst = report.Azimuths.MinBy(a => a.Shares[0].WarnedFraction)!;
        return $"From straight ahead {FigureWords.Percent(ahead.Shares[0].WarnedFraction)} of the head band is warned in time; "
            + $"least from {FigureWords.Side(worst.AzimuthDegrees)}: {FigureWords.Percent(worst.Shares[0].WarnedFraction)}.";
    }

    /// <summary>Returns the beam of a part: one way, and there and back.</summary>
    internal static PolarFigure Beam(Transducer part, AirState air, SoundSpeedModel model)
    {
        double k = AirProperties.Of(air, part.NominalFrequency, model).WavenumberRadiansPerMetre;
        var series = ImmutableArray.CreateBuilder<PolarSeries>();
        bool isRound = part.Transmit.IsAxisymmetric && part.Receive.IsAxisymmetric;
        foreach (bool isVertical in isRound ? [false] : new[] { false, true })
        {
            string plane = isRound ? string.Empty : isVertical ? ", upright plane" : ", level plane";
            series.Add(new($"transmitter alone{plane}", Curve(a => Decibels(part.Transmit.AmplitudeAt(a, k, isVertical)))));
            series.Add(new($"there and back{plane}", Curve(a => Decibels(part.Transmit.AmplitudeAt(a, k, isVertical)) + Decibels(part.Receive.AmplitudeAt(a, k, isVertical)))));
        }

        Angle three = part.Transmit.HalfAngleAt(-3, k), six = part.Transmit.HalfAngleAt(-6, k);
        return new(series.ToImmutable())
        {
            Title = $"Beam of {part.Name}",
            Finding = BeamFinding(part, k),
            Marks = [new($"−3 dB at {three.Degrees:0.0}°", three, -3), new($"−6 dB at {six.Degrees:0.0}°", -six, -6)],
            WidthPixels = 800,
            Footnotes = [$"Level against the boresight at {part.NominalFrequency.Kilohertz:0.#} kHz. {FigureWords.Capital(part.Transmit.Description)}."],
        };
    }

    /// <summary>Says how wide a beam is.</summary>
    internal static string BeamFinding(Transducer part, double wavenumberRadiansPerMetre)
    {
        double three = part.Transmit.HalfAngleAt(-3, wavenumberRadiansPerMetre).Degrees, six = part.Transmit.HalfAngleAt(-6, wavenumberRadiansPerMetre).Degrees;
        return $"One way the level falls by 3 dB at {three:0.0}° and by 6 dB at {six:0.0}° off the boresight.";
    }

    private static ImmutableArray<PolarPoint> Curve(Func<Angle, double> level) =>
        [.. Enumerable.Range(-90, 181).Select(d => new PolarPoint(Angle.FromDegrees(d * 0.999), level(Angle.FromDegrees(d * 0.999))))];

    private static string Degrees(double value) => $"{(value < 0 ? "−" : "")}{Math.Abs(value):0.#}°";

    private static double Decibels(double amplitude) => 20 * Math.Log10(Math.Max(Math.Abs(amplitude), 1e-6));

    // Stretches of tilt in which the floor is heard, half a step wide on both sides of a computed tilt.
    private static IEnumerable<AxisWindow> FloorStretches(TiltCurve curve)
    {
        double start = double.NaN;
        for (int i = 0; i <= curve.Points.Length; i++)
        {
            bool heard = i < curve.Points.Length && curve.Points[i].FloorMarginDecibels >= 0;
            if (heard && double.IsNaN(start))
            {
                start = curve.Points[i].TiltDegrees;
            }
            else if (!heard && !double.IsNaN(start))
            {
                double end = curve.Points[i - 1].TiltDegrees;
                yield return new("false floor echo", start == end ? start - 1 : start, start == end ? end + 1 : end, true, HatchPattern.Rising)
                {
                    Colour = Colour.FromHex("b00000"),
                };
                start = double.NaN;
            }
        }
    }
}
