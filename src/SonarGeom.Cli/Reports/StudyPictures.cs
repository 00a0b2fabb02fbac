using SonarGeom.Cli.Results;
using SonarGeom.Coverage;
using SonarGeom.Layouts;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Scenes;
using SonarGeom.Studies;
using SonarGeom.Transducers;

namespace SonarGeom.Cli.Reports;

/// <summary>The pictures, the scene and the report page of the main job.</summary>
internal static class StudyPictures
{
    /// <summary>Makes all of them. Touches no file: the caller writes what is returned.</summary>
    /// <param name="report">What the study found.</param>
    /// <param name="inputsHash">Hash of the inputs, printed on the page.</param>
    internal static IReadOnlyList<ReportFile> Of(StudyReport report, string inputsHash)
    {
        IReadOnlyList<Picture> pictures = Pictures(report);
        byte[] scene = [];
        DrawnPicture[] drawn = [];

        // The scene takes one processor while the pictures take what is left.
        Parallel.Invoke(() => scene = SceneWriter.Glb(StudyScene.Of(report)), () => drawn = Picture.Draw(pictures));
        byte[] page = StudyPage.Of(report, inputsHash, drawn.ToDictionary(d => d.Picture.Stem, StringComparer.Ordinal));
        return [.. drawn.SelectMany(d => d.Files), new("scene.glb", scene), new("report.html", page)];
    }

    /// <summary>Returns the file stem of an approach map.</summary>
    internal static string MapStem(Probe probe) => $"map-{FileNames.Of(probe.Name)}";

    /// <summary>Returns the file stem of a sensor's tilt curve.</summary>
    internal static string TiltStem(string sensor) => $"tilt-{FileNames.Of(sensor)}";

    /// <summary>Returns the file stem of a part's beam.</summary>
    internal static string BeamStem(Transducer part) => $"beam-{FileNames.Of(part.Name)}";

    /// <summary>Returns the different parts of a layout, in the order of its sensors.</summary>
    internal static IReadOnlyList<Transducer> Parts(SensorLayout layout) => [.. layout.Sensors.Select(s => s.Transducer).DistinctBy(t => t.Name)];

    private static IReadOnlyList<Picture> Pictures(StudyReport report)
    {
        var list = new List<(string Stem, Func<Figure> Figure)>();
        foreach (ApproachMap map in report.Maps)
        {
            BlindZone[] zones = [.. report.BlindZones.Where(z => z.ProbeName == map.Probe.Name)];
            list.Add((MapStem(map.Probe), () => MapFigures.Approach(report, map, zones)));
        }

        list.AddRange(report.Slices.Select(s => (FileNames.Of(s), (Func<Figure>)(() => SliceFigures.Of(report, s)))));
        list.Add(("sensors-hearing", () => MapFigures.SensorsHearing(report, report.Maps[0])));
        list.Add(("pole-strips", () => StripFigures.Poles(report)));
        list.Add(("bands", () => CurveFigures.Bands(report)));
        list.Add(("wearers", () => CurveFigures.Wearers(report)));
        list.Add(("approach-directions", () => CurveFigures.Directions(report)));
        list.AddRange(report.TiltCurves.Select(c => (TiltStem(c.Sensor), (Func<Figure>)(() => CurveFigures.Tilt(c)))));
        list.Add(("floor-echo-against-tilt", () => CurveFigures.FloorTilt(report)));
        list.AddRange(Parts(report.Scenario.Layout).Select(p =>
            (BeamStem(p), (Func<Figure>)(() => CurveFigures.Beam(p, report.Scenario.Air, report.Scenario.SoundSpeedModel)))));

        // Two names may differ only in signs that file names do not keep: the first of them has the file.
        return [.. list.DistinctBy(p => p.Stem).Select(p => new Picture(p.Stem, p.Figure()))];
    }
}
