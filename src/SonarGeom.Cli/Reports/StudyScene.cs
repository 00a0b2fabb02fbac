using System.Collections.Immutable;
using System.Text;
using SonarGeom.Bodies;
using SonarGeom.Cli.Results;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Grids;
using SonarGeom.Rendering.Scenes;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>The scene of a study: the wearer, the sensors and how far they hear, the obstacles by verdict, the blind zones.</summary>
internal static class StudyScene
{
    private static readonly Colour Skin = Colour.FromHex("b9a58f");
    private static readonly Colour Clothes = Colour.FromHex("8a8f99");
    private static readonly Colour CaneColour = Colour.FromHex("615511");
    private static readonly Colour Shell = Colour.FromHex("4da694").WithAlpha(60);
    private static readonly Colour Blind = Colour.FromHex("b00000").WithAlpha(90);
    private static readonly Colour Warned = Colour.FromHex("1449e8");
    private static readonly Colour Danger = Colour.FromHex("eb6601");
    private static readonly Colour Beside = Colour.FromHex("9a9a9a");

    /// <summary>Returns the scene.</summary>
    internal static SceneDocument Of(StudyReport report)
    {
        int ahead = 5, side = 2;
        foreach (ObstacleVerdict v in report.Verdicts)
        {
            BoundingReach(v, ref ahead, ref side);
        }

        // Translucent things stand last, the outermost at the very end.
        return new(
            report.Scenario.Name,
            [
                SceneShapes.Ground(Math.Min(ahead, 40), 2, Math.Min(side, 10)),
                SceneShapes.ScaleBar(new(0.5, -1, 0)),
                Wearer(report.Posed),
                new SceneGroup("sensors", [.. Enumerable.Range(0, report.Posed.SensorCount).Select(s => (SceneItem)Sensor(report.Posed, s))]),
                new SceneGroup("obstacles", [.. report.Verdicts.Select(v => (SceneItem)Hazard(v))]),
                new SceneGroup($"blind zones, {report.Maps[0].Probe.Name}", Zones(report)),
                new SceneGroup(
                    $"just detected, {report.Scenario.Probes[0].Name}",
                    [.. Enumerable.Range(0, report.Posed.SensorCount).Select(s => (SceneItem)ShellOf(report, s))]),
            ])
        {
            Cameras =
            [
                ("from ahead, left", new(new(5, 3, 2.4), new(1, 0, 1), Angle.FromDegrees(45))),
                ("from the right", new(new(1.5, -6, 1.5), new(1.5, 0, 1), Angle.FromDegrees(45))),
                ("from above", new(new(0.9, 0, 8), new(1, 0, 0), Angle.FromDegrees(45))),
            ],
        };
    }

    private static void BoundingReach(ObstacleVerdict verdict, ref int ahead, ref int side)
    {
        BoundingBox box = verdict.Obstacle.Bounds();
        ahead = Math.Max(ahead, (int)Math.Ceiling(box.HighMetres.X) + 1);
        side = Math.Max(side, (int)Math.Ceiling(Math.Max(box.HighMetres.Y, -box.LowMetres.Y)));
    }

    private static SceneGroup Wearer(PosedLayout posed) => new(
        $"wearer: {posed.Body.Spec.Name}",
        [
            .. posed.Body.Segments.Select(s => (SceneItem)new SceneSurface(Part(s.Id), posed.Poses[0].Mesh(s.Id), s.Id switch
            {
                SegmentId.Cane => CaneColour,
                SegmentId.Head or SegmentId.Neck or SegmentId.HandLeft or SegmentId.HandRight => Skin,
                _ => Clothes,
            })),
        ]);

    // "UpperArmLeft" reads "upper arm, left".
    private static string Part(SegmentId id)
    {
        var words = new StringBuilder(Words.Of(id));
        return words.Replace(" left", ", left").Replace(" right", ", right").ToString();
    }

    private static SceneGroup Sensor(PosedLayout posed, int index)
    {
        SensorPlacement placement = posed.Layout.Sensors[index];
        SensorAtPose pose = posed.Sensor(index, 0);
        Vec3 face = pose.MidpointMetres;
        return new(
            placement.Name,
            [
                new SceneSurface($"{placement.Name}: body", SceneShapes.Cylinder(face - (0.015 * pose.Boresight), face, 0.012), Colour.Ink),
                new SceneSurface($"{placement.Name}: boresight", SceneShapes.Arrow(face, face + (0.45 * pose.Boresight), 0.005), Colour.FromHex("a83187")),
            ])
        {
            Facts =
            [
                new("part", placement.Transducer.Name),
                new("site", placement.Mount.Site),
                new("tilt, positive up (°)", $"{placement.Mount.Tilt.Degrees:0.###}"),
                new("azimuth, positive left (°)", $"{placement.Mount.Azimuth.Degrees:0.###}"),
                new("announces", Words.Of(placement.Announces)),
            ],
        };
    }

    private static SceneItem Hazard(ObstacleVerdict verdict)
    {
        Colour colour = verdict.IsDanger ? Danger : verdict.IsOnCourse ? Warned : Beside;
        string name = $"{verdict.Obstacle.Id}: {Words.Of(verdict.Outcome).ToLowerInvariant()}";
        return verdict.Obstacle.Parts(null) is [FoliagePart leaves]
            ? new SceneGroup(
                name,
                [
                    new SceneSurface($"{verdict.Obstacle.Id}: leaves", LeafDrawing.Of(leaves), colour) { IsTwoSided = true },
                    new SceneSurface($"{verdict.Obstacle.Id}: envelope", verdict.Obstacle.Mesh(), colour.WithAlpha(50)),
                ])
            {
                Facts = FactsOf(verdict),
            }
            : new SceneSurface(name, verdict.Obstacle.Mesh(), colour) { IsTwoSided = true, Facts = FactsOf(verdict) };
    }

    private static ImmutableArray<SceneFact> FactsOf(ObstacleVerdict verdict) =>
        [
            new("verdict", Words.Of(verdict.Outcome).ToLowerInvariant()),
            new("cause", Findings.InWords(verdict)),
            new("warning time (s)", $"{verdict.WarningSeconds:0.00}"),
            new("time needed (s)", $"{verdict.TimeNeededSeconds:0.00}"),
            new("sensor", verdict.Sensor),
        ];

    private static ImmutableArray<SceneItem> Zones(StudyReport report)
    {
        ApproachMap map = report.Maps[0];
        CoverageGrid grid = map.Grid;
        var lateral = new GridAxis(grid.FirstYMetres, grid.CellMetres, grid.Columns);
        var height = new GridAxis(grid.FirstZMetres, grid.CellMetres, grid.Rows);
        double needed = map.TimeNeededSeconds * map.SpeedMetresPerSecond;
        return
        [
            .. report.BlindZones.Where(z => z.ProbeName == map.Probe.Name).Select(z =>
            {
                var from = new double[grid.Count];
                var to = new double[grid.Count];
                Array.Fill(from, double.NaN);
                foreach (int cell in z.Cells)
                {
                    double front = report.Posed.Silhouette.ForemostXMetres(lateral.Centre(cell % grid.Columns), height.Centre(cell / grid.Columns)) ?? 0;
                    (from[cell], to[cell]) = (front, front + needed);
                }

                return (SceneItem)new SceneSurface(
                    $"blind zone {z.Name}: {Findings.InWords(z.Cause)}", CellExtrusion.Solid(lateral, height, from, to), Blind)
                {
                    SharpEdge = Angle.Zero,
                    Facts =
                    [
                        new("band", Words.Of(z.Band)), new("side", Words.Of(z.Side)), new("area (m²)", $"{z.AreaSquareMetres:0.0000}"),
                        new("largest circle (m)", $"{z.InscribedDiameterMetres:0.00}"), new("cause", Findings.InWords(z.Cause)),
                    ],
                };
            }),
        ];
    }

    private static SceneSurface ShellOf(StudyReport report, int sensor) => new(
        $"{report.Posed.Layout.Sensors[sensor].Name}: just detects {report.Scenario.Probes[0].Name}",
        DetectionShell.Of(report.Posed, sensor, ProbeTarget.Of(report.Scenario.Probes[0])), Shell);
}
