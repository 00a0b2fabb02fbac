using SonarGeom.Air;
using SonarGeom.Cli.Results;
using SonarGeom.Layouts;
using SonarGeom.Studies;
using SonarGeom.Transducers;

namespace SonarGeom.Cli.Reports;

/// <content>The sections about the device, the air and the scene.</content>
internal static partial class StudyPage
{
    private static void WriteOutages(Page page, StudyReport report)
    {
        page.Section("With one sensor dead or covered");
        SensorOutage[] costly = [.. report.Outages.Where(o => !o.NoLongerWarned.IsEmpty)];
        SensorOutage? worst = report.Outages.MaxBy(o => o.NoLongerWarned.Length);
        page.Text(costly.Length == 0
            ? "No obstacle that is warned of now is lost with any one sensor dead or covered."
            : $"Worst: {worst!.Sensor} {(worst.IsCovered ? "covered" : "dead")} loses {FigureWords.Listed(worst.NoLongerWarned)}.");
        page.Table(
            "What is lost with one sensor dead or covered by cloth or hair", report.Outages,
            new PageColumn<SensorOutage>("Sensor", o => Cell.Of(o.Sensor)),
            new("State", o => Cell.Of(o.IsCovered ? $"covered, {o.LossDecibels:0} dB" : "dead")),
            new("No longer warned of", o => Cell.Of(o.NoLongerWarned)),
            new("Still warned of", o => Cell.Of(o.StillWarnedCount)));
    }

    private static void WriteSelfEchoes(Page page, StudyReport report)
    {
        page.Section("Floor and limb echoes");
        string[] floor = [.. report.SelfEchoes.Where(e => double.IsFinite(e.FloorRangeMetres)).Select(e => $"{e.Sensor} (from {e.FloorRangeMetres:0.00} m)")];
        string[] limb = [.. report.SelfEchoes.Where(e => double.IsFinite(e.LimbRangeMetres)).Select(e => $"{e.Sensor} ({e.LimbName} from {e.LimbRangeMetres:0.00} m)")];
        page.Text(
            $"Sensors that report the bare floor ({FigureWords.Ground(report.Posed)}): {FigureWords.Listed(floor)}. "
            + $"Sensors that report the wearer's own limbs or cane: {FigureWords.Listed(limb)}. A device reports the first echo: what lies behind is hidden.");
        page.Table(
            "What each sensor hears of the floor and of the wearer", report.SelfEchoes,
            new PageColumn<SelfEcho>("Sensor", e => Cell.Of(e.Sensor)),
            new("Floor margin [dB]", e => Cell.Of(Heard(e.FloorMarginDecibels), 1)),
            new("Floor from [m]", e => Cell.Of(e.FloorRangeMetres, 2)),
            new("Of the stride [%]", e => Cell.Of(100 * e.FloorPhasesFraction, 0)),
            new("Limb", e => Cell.Of(e.LimbName.Length == 0 ? "silent" : e.LimbName)),
            new("Limb from [m]", e => Cell.Of(e.LimbRangeMetres, 2)));
    }

    private static void WriteAir(Page page, StudyReport report)
    {
        AirProperties air = report.Air;
        double assumed = report.Scenario.Device.AssumedMicrosecondsPerCentimetre;
        double error = RoundTrip.RangeErrorFraction(assumed, air.SoundSpeedMetresPerSecond);
        page.Section("Air and the device's range error");
        page.Text(
            $"A device that assumes {assumed:0.0#} µs/cm shows a true 2.00 m as {2 * (1 + error):0.00} m in this air: {Math.Abs(error) * 100:0.0} % too {(error < 0 ? "near" : "far")}.");
        page.Table(
            "Air", new (string Name, Cell Value)[]
            {
                ("State", Cell.Of(air.State.ToString())),
                ("Speed of sound [m/s]", Cell.Of(air.SoundSpeedMetresPerSecond, 2)),
                ("Wavelength [mm]", Cell.Of(1000 * air.WavelengthMetres, 2)),
                ("Density [kg/m³]", Cell.Of(air.DensityKilogramsPerCubicMetre, 3)),
                ("Impedance [Pa·s/m]", Cell.Of(air.ImpedancePascalSecondsPerMetre, 1)),
                ($"Absorption at {air.Frequency.Kilohertz:0.#} kHz [dB/m]", Cell.Of(air.AbsorptionDecibelsPerMetre, 2)),
                ("Round trip [µs/cm]", Cell.Of(air.RoundTripMicrosecondsPerCentimetre, 2)),
                ("Round trip that the device assumes [µs/cm]", Cell.Of(assumed, 2)),
                ("Range error of the device [%]", Cell.Of(100 * error, 2)),
            },
            new PageColumn<(string Name, Cell Value)>("Quantity", r => Cell.Of(r.Name)),
            new("Value", r => Cell.Of(r.Value.ToText())));
        if (!air.Flags.IsEmpty)
        {
            page.List(air.Flags);
        }
    }

    private static void WriteSensors(Page page, StudyReport report, IReadOnlyDictionary<string, DrawnPicture> pictures)
    {
        SensorLayout layout = report.Scenario.Layout;
        page.Section("Sensors and parts");
        page.Text($"{layout.Description} Firing cycle {layout.Firing.CycleSeconds * 1000:0} ms; {layout.Firing.RequiredHits} hits of {layout.Firing.WindowPings} pings make an alert; alert latency {layout.Firing.AlertLatencySeconds * 1000:0} ms.");
        page.Table(
            "Where each sensor is worn and where it looks", Enumerable.Range(0, layout.Sensors.Length).ToArray(),
            new PageColumn<int>("Sensor", i => Cell.Of(layout.Sensors[i].Name)),
            new("Part", i => Cell.Of(layout.Sensors[i].Transducer.Name)),
            new("Site", i => Cell.Of(layout.Sensors[i].Mount.Site)),
            new("Tilt, positive up [°]", i => Cell.Of(layout.Sensors[i].Mount.Tilt.Degrees, 1)),
            new("Azimuth, positive left [°]", i => Cell.Of(layout.Sensors[i].Mount.Azimuth.Degrees, 1)),
            new("Tilt tolerance [± °]", i => Cell.Of(layout.Sensors[i].Mount.Tolerance.Tilt.Degrees, 1)),
            new("Height while walking [m]", i => Cell.Of(report.Posed.Sensor(i, 0).MidpointMetres.Z, 2)),
            new("Dead zone [m]", i => Cell.Of(report.Posed.DeadZoneMetres(i), 2)),
            new("Announces", i => Cell.Of(Words.Of(layout.Sensors[i].Announces))));
        page.Text($"Sensors fire in this order, those of a group together: {FiringTables.OrderInWords(layout, report.Firing.Schedule)}. {report.Firing.Sentence} Judged against a large wall at the worst place, and straight across without what the body hides.");
        page.Table(
            "Ghosts of earlier bursts and crosstalk, the nearest to a false report first", report.Firing.FalseReports.Take(12).ToArray(),
            new PageColumn<FalseReport>("Listens", r => Cell.Of(r.Listener)),
            new("Sends", r => Cell.Of(r.Sender)),
            new("What", r => Cell.Of(FiringStudy.InWords(r.Kind))),
            new("True range [m]", r => Cell.Of(r.Margin.TrueRangeMetres, 2)),
            new("Seems at [m]", r => Cell.Of(r.Margin.ApparentRangeMetres, 2)),
            new("Below the threshold [dB]", r => Cell.Of(r.Margin.MarginDecibels, 1)));
        IReadOnlyList<Transducer> parts = StudyPictures.Parts(layout);
        page.Table(
            "Parts, their figure of merit and how sure it is", parts,
            new PageColumn<Transducer>("Part", t => Cell.Of(t.Name)),
            new("Frequency [kHz]", t => Cell.Of(t.NominalFrequency.Kilohertz, 1)),
            new("Figure of merit [dB]", t => Cell.Of(t.LateFigureOfMeritDecibels, 1)),
            new("Uncertainty [± dB]", t => Cell.Of(t.Evidence.FigureOfMeritUncertaintyDecibels, 1)),
            new("Half angle at −3 dB, one way [°]", t => Cell.Of(t.Transmit.HalfAngleAt(-3, Wavenumber(t)).Degrees, 1)),
            new("Half angle at −6 dB, one way [°]", t => Cell.Of(t.Transmit.HalfAngleAt(-6, Wavenumber(t)).Degrees, 1)),
            new("Range holds for", t => Cell.Of(t.Evidence.RangeTarget)),
            new("How sure", t => Cell.Of(t.Evidence.Confidence)),
            new("Source", t => Cell.Of(t.Evidence.Source)));
        foreach (Transducer part in parts)
        {
            page.Part($"Beam of {part.Name}");
            page.Text(part.Description);
            if (pictures.TryGetValue(StudyPictures.BeamStem(part), out DrawnPicture? picture))
            {
                page.Picture(picture);
            }

            page.Table(
                $"Level of {part.Name} off the boresight, level plane", new double[] { 0, 5, 10, 15, 20, 30, 45, 60, 75 },
                new PageColumn<double>("Off the boresight [°]", a => Cell.Of(a, 0)),
                new("Transmitter alone [dB]", a => Cell.Of(Level(part.Transmit, part, a), 1)),
                new("There and back [dB]", a => Cell.Of(Level(part.Transmit, part, a) + Level(part.Receive, part, a), 1)));
        }

        double Wavenumber(Transducer part) => AirProperties.Of(report.Scenario.Air, part.NominalFrequency, report.Scenario.SoundSpeedModel).WavenumberRadiansPerMetre;

        double Level(Directivity beam, Transducer part, double degrees) =>
            20 * Math.Log10(Math.Max(1e-6, Math.Abs(beam.AmplitudeAt(Quantities.Angle.FromDegrees(degrees), Wavenumber(part)))));
    }

    private static void WriteScene(Page page, StudyReport report)
    {
        page.Section("Three-dimensional scene");
        page.Text(
            "The file scene.glb beside this page is a binary glTF scene in metres that any viewer of that format opens; its outline names every part. "
            + $"It shows the wearer at the first stride phase, each sensor with its boresight, for each sensor the closed surface on which {report.Scenario.Probes[0].Name} is just detected (as far as 6 m), "
            + "the obstacles where they stand when the walk begins (blue: warned in time; orange: not; grey: not in the way; each name says its verdict), "
            + $"and the blind zones of {report.Maps[0].Probe.Name} as dark red solids from the body to the distance at which a warning would have been in time, "
            + $"{report.TimeNeededSeconds * report.Scenario.Walk.SpeedMetresPerSecond:0.00} m ahead. The ground has lines one metre apart.");
    }
}
