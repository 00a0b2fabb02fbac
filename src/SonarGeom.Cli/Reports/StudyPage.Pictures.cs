using SonarGeom.Cli.Results;
using SonarGeom.Coverage;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <content>The sections with pictures.</content>
internal static partial class StudyPage
{
    private static readonly double[] SampleMetres = [0.5, 1.0, 1.5, 2.0, 2.5, 3.0, 3.5];

    private static void WriteMaps(Page page, StudyReport report, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        page.Section("Approach maps");
        page.Text(
            "Each map is a frontal view of the walking wearer from behind. A probe comes straight at every cell; the cell holds the warning time left when it is "
            + "first reliably reported. Only cells inside the silhouette can hit the wearer. What the long cane covers is marked as partial: its users find only part of what is there.");
        foreach (ApproachMap map in report.Maps)
        {
            page.Part($"Map for {FigureWords.Named(map.Probe)}");
            if (pictures.TryGetValue(StudyPictures.MapStem(map.Probe), out DrawnPicture? picture))
            {
                page.Picture(picture, $"{StudyPictures.MapStem(map.Probe)}.csv");
            }

            page.Table(
                $"Height bands for {map.Probe.Name}", map.Shares(),
                new PageColumn<BandShare>("Height band", s => Cell.Of(Words.Of(s.Band))),
                new("Cells", s => Cell.Of(s.Cells)),
                new("Warned in time [%]", s => Cell.Of(100 * s.WarnedFraction, 1)),
                new("Warned, even if lost again later [%]", s => Cell.Of(100 * s.HeldFraction, 1)),
                new("Warning at the worst cell [s]", s => Cell.Of(s.LeastWarningSeconds, 2)),
                new("Blind zones", s => Cell.Of(report.BlindZones.Count(z => z.ProbeName == map.Probe.Name && z.Band == s.Band))));
        }

        page.Part("Poles that stand from the ground to above the head");
        page.Picture(pictures["pole-strips"], "pole-strips.csv");
        page.Table(
            "Share of the silhouette's width warned in time", report.PoleStrips,
            new PageColumn<ApproachStrip>("Pole", s => Cell.Of(s.Description)),
            new("Warned in time [%]", s => Cell.Of(100 * s.WarnedFraction, 1)),
            new("Warned, even if lost again later [%]", s => Cell.Of(100 * s.HeldFraction, 1)),
            new("Why not", s => Cell.Of(s.WarnedFraction >= 1 ? "–" : FigureWords.Cause(SideTables.WorstCause(s)))));

        ApproachMap main = report.Maps[0];
        page.Part("Redundancy: how many sensors hear it");
        page.Picture(pictures["sensors-hearing"], $"{StudyPictures.MapStem(main.Probe)}.csv");
        page.Table(
            $"Share of the silhouette heard by several sensors, {main.Probe.Name}", FigureWords.Bands,
            new PageColumn<HeightBand>("Height band", b => Cell.Of(Words.Of(b))),
            new("By one or more [%]", b => Cell.Of(100 * MapFigures.HeardShare(main, b, 1), 1)),
            new("By two or more [%]", b => Cell.Of(100 * MapFigures.HeardShare(main, b, 2), 1)),
            new("By three or more [%]", b => Cell.Of(100 * MapFigures.HeardShare(main, b, 3), 1)));
    }

    private static void WriteSlices(Page page, StudyReport report, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        page.Section("Slices of the detection margin");
        page.Text("A slice shows by how many decibels the best sensor hears the probe at each place, at one stride phase. The geometric beam edges are drawn over it: where the two differ, a cone would have been wrong.");
        foreach (MarginSlice slice in report.Slices)
        {
            bool isPlan = slice.Plane == SlicePlane.Plan;
            page.Part(isPlan ? $"Seen from above, {slice.AtMetres:0.00} m above the ground" : "Seen from the right, on the middle line");
            if (pictures.TryGetValue(FileNames.Of(slice), out DrawnPicture? picture))
            {
                page.Picture(picture, $"{FileNames.Of(slice)}.csv");
            }

            double[] distances = [.. SampleMetres.Where(d => d <= SliceFigures.FarthestMetres(slice))];
            (string Name, double At)[] rows = isPlan
                ? [("0.6 m to the left", 0.6), ("0.3 m to the left", 0.3), ("on the middle line", 0), ("0.3 m to the right", -0.3), ("0.6 m to the right", -0.6)]
                : [.. FigureWords.Bands.Select(b => ($"{Words.Of(b)}, {report.Posed.BandMiddleMetres(b):0.00} m high", report.Posed.BandMiddleMetres(b)))];
            page.Table(
                isPlan ? $"Margin in dB at {slice.AtMetres:0.00} m high, {slice.ProbeName}; a dash where nothing is heard" : $"Margin in dB on the middle line, {slice.ProbeName}; a dash where nothing is heard",
                rows,
                [
                    new("Place", r => Cell.Of(r.Name)),
                    .. distances.Select(d => new PageColumn<(string Name, double At)>($"{d:0.0} m ahead", r => Cell.Of(SliceFigures.MarginAt(slice, d, r.At), 1))),
                    new("Heard as far as [m]", r => Cell.Of(SliceFigures.Reach(slice, r.At), 2)),
                ]);
        }
    }

    private static void WriteTilts(Page page, StudyReport report, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        page.Section("Tilt of each sensor");
        page.Table(
            "Tilt windows", report.TiltCurves,
            new PageColumn<TiltCurve>("Sensor", c => Cell.Of(c.Sensor)),
            new("As mounted [°]", c => Cell.Of(c.CurrentTiltDegrees, 1)),
            new("Window from [°]", c => Cell.Of(c.WindowLowDegrees, 0)),
            new("Window to [°]", c => Cell.Of(c.WindowHighDegrees, 0)),
            new("In words", c => Cell.Of(CurveFigures.TiltFinding(c))));
        foreach (TiltCurve curve in report.TiltCurves)
        {
            page.Part($"Tilt of {curve.Sensor}");
            if (pictures.TryGetValue(StudyPictures.TiltStem(curve.Sensor), out DrawnPicture? picture))
            {
                page.Picture(picture, "tilt-curves.csv");
            }

            page.Table(
                $"Head band and floor echo against the tilt of {curve.Sensor}, {curve.ProbeName}", curve.Points,
                new PageColumn<TiltPoint>("Tilt [°]", p => Cell.Of(p.TiltDegrees, 0)),
                new("Head band, whole layout [%]", p => Cell.Of(100 * p.HeadShareFraction, 1)),
                new("Chest band [%]", p => Cell.Of(100 * p.ShareOf(HeightBand.Chest), 1)),
                new("Waist band [%]", p => Cell.Of(100 * p.ShareOf(HeightBand.Waist), 1)),
                new("Loses", p => Cell.Of(p.Lost)),
                new("Gains", p => Cell.Of(p.Gained)),
                new("Head band, this sensor alone [%]", p => Cell.Of(100 * p.SensorAloneHeadShareFraction, 1)),
                new("Floor margin [dB]", p => Cell.Of(Heard(p.FloorMarginDecibels), 1)),
                new("Floor", p => Cell.Of(p.FloorMarginDecibels >= 0 ? "false alert" : "silent")));
        }

        page.Part("Floor echo of all sensors");
        page.Picture(pictures["floor-echo-against-tilt"], "tilt-curves.csv");
    }

    private static void WriteWearers(Page page, StudyReport report, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        page.Section("Other wearers");
        page.Picture(pictures["wearers"], "wearers.csv");
        page.Table(
            $"Warned in time on each wearer, {report.Wearers[0].ProbeName}", report.Wearers,
            [
                new("Wearer", w => Cell.Of(w.Wearer)),
                new("Stature [m]", w => Cell.Of(w.StatureMetres, 2)),
                new("Crown in shoes [m]", w => Cell.Of(w.TopMetres, 2)),
                .. FigureWords.Bands.Select((b, k) => new PageColumn<WearerShare>($"{Words.Of(b)} [%]", w => Cell.Of(100 * w.Shares[k].WarnedFraction, 1))),
            ]);
    }

    private static void WriteDirections(Page page, StudyReport report, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        page.Section("Other directions and turning");
        page.Part("Hazard closing in from the side");
        page.Picture(pictures["approach-directions"], "approach-directions.csv");
        page.Table(
            $"Warned in time by direction, {report.Scenario.Probes[0].Name}", report.Azimuths,
            [
                new("Direction", a => Cell.Of(FigureWords.Side(a.AzimuthDegrees))),
                .. FigureWords.Bands.Select((b, k) => new PageColumn<AzimuthShare>($"{Words.Of(b)} [%]", a => Cell.Of(100 * a.Shares[k].WarnedFraction, 1))),
            ]);
        page.Part("Turning on the spot");
        TurningSector? least = report.Turning.MinBy(t => t.HeardFraction);
        page.Text(least is null
            ? "Not computed."
            : $"How much of the half circle from 90° right to 90° left a standing wearer hears {report.Scenario.Probes[0].Name} in. Least: {FigureWords.Percent(least.HeardFraction)}, {Words.Of(least.Band)} band at {least.DistanceMetres:0.0} m.");
        page.Table(
            "Directions in which it is reported while turning on the spot", report.Turning,
            new PageColumn<TurningSector>("Band and distance", t => Cell.Of($"{Words.Of(t.Band)} at {t.DistanceMetres:0.0} m")),
            new("Height [m]", t => Cell.Of(t.HeightMetres, 2)),
            new("Reported [%]", t => Cell.Of(100 * t.HeardFraction, 0)),
            new("Sectors, from right to left", t => Cell.Of(t.SectorsDegrees.IsEmpty
                ? "none"
                : string.Join("; ", t.SectorsDegrees.Select(d => $"{FigureWords.Side(d.FromDegrees)} to {FigureWords.Side(d.ToDegrees)}")))));
    }

    // Levels that stand for silence are told as nothing.
    private static double? Heard(double decibels) => decibels <= -200 ? null : decibels;
}
