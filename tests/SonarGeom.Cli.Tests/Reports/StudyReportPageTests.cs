using System.Buffers.Binary;
using System.Text;
using System.Text.Json;
using System.Text.RegularExpressions;
using SonarGeom.Cli.Reports;
using SonarGeom.Cli.Results;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Tests.Reports;

public sealed class StudyReportPageTests(QuickStudy study) : IClassFixture<QuickStudy>
{
    [Fact]
    public void NamesEveryBlindZoneInWords()
    {
        (string[] headings, string[][] rows) = QuickStudy.TableOf(study.Page, "Blind zones, the most dangerous first");
        Assert.NotEmpty(study.Report.BlindZones);
        int Column(string name) => Array.IndexOf(headings, name);
        Assert.Equal(
            study.Report.BlindZones.Select(z => string.Join(
                " | ", z.Name, z.ProbeName, Words.Of(z.Band), Words.Of(z.Side), Findings.InWords(z.Cause), $"{z.InscribedDiameterMetres:F2}",
                $"{z.AreaSquareMetres:F4}", $"{z.LowZMetres:F2}", $"{z.HighZMetres:F2}")).Order(StringComparer.Ordinal),
            rows.Select(r => string.Join(" | ", new[]
            {
                "Zone", "Probe", "Band", "Side", "Cause", "Largest circle [m]", "Area [m²]", "From height [m]", "To height [m]",
            }.Select(h => r[Column(h)]))).Order(StringComparer.Ordinal));
    }

    [Fact]
    public void NamesEveryObstacleWithItsVerdict()
    {
        (_, string[][] rows) = QuickStudy.TableOf(study.Page, "Obstacles, the worst first");
        Assert.Equal(study.Report.Verdicts.Length, rows.Length);
        Assert.All(study.Report.Verdicts, v => Assert.Contains(rows, r => r[0] == v.Obstacle.Id && r[1] == Words.Of(v.Outcome)));
    }

    [Fact]
    public void LeadsWithTheWorstFinding()
    {
        string text = QuickStudy.Plain(study.Page[study.Page.IndexOf("<main", StringComparison.Ordinal)..]);
        Assert.StartsWith($"Worst finding Worst: {study.Report.WorstFinding}", string.Join(' ', text.Split((char[])[' ', '\n'], StringSplitOptions.RemoveEmptyEntries)), StringComparison.Ordinal);
    }

    [Fact]
    public void IsCompleteWithoutSight() => PageChecks.IsCompleteWithoutSight(study.Page);

    [Fact]
    public void IsSelfContained() => PageChecks.IsSelfContained(study.Page);

    [Fact]
    public void EscapesWhatTheUserWrote()
    {
        Assert.DoesNotContain("<30 mm>", study.Page, StringComparison.Ordinal);
        Assert.DoesNotContain("<shoulders>", study.Page, StringComparison.Ordinal);
        Assert.Contains("branch &lt;30 mm&gt; &amp; &quot;twigs&quot;", study.Page, StringComparison.Ordinal);
        Assert.Contains(QuickStudy.Hash, study.Page, StringComparison.Ordinal);
    }

    [Fact]
    public void StatesRequirementsAssumptionsAndCautions()
    {
        string text = QuickStudy.Plain(study.Page);
        Assert.All(study.Report.Requirements, r => Assert.Contains(r.Sentence, text, StringComparison.Ordinal));
        Assert.All(study.Report.Assumptions, a => Assert.Contains(a, text, StringComparison.Ordinal));
        Assert.All(Findings.Cautions, c => Assert.Contains(c, text, StringComparison.Ordinal));
    }

    [Fact]
    public void IsTheSameEveryTime()
    {
        IReadOnlyList<ReportFile> again = StudyPictures.Of(study.Report, QuickStudy.Hash);
        Assert.Equal(study.Files.Select(f => f.Name), again.Select(f => f.Name));
        Assert.All(study.Files.Zip(again), pair => Assert.True(pair.First.Bytes.AsSpan().SequenceEqual(pair.Second.Bytes), pair.First.Name));
    }

    [Fact]
    public void FileNamesDiffer() => Assert.Equal(study.Files.Count, study.Files.Select(f => f.Name).Distinct().Count());

    [Fact]
    public void SceneNamesSensorsObstaclesAndZones()
    {
        byte[] scene = study.Files.Single(f => f.Name == "scene.glb").Bytes;
        Assert.Equal("glTF", Encoding.ASCII.GetString(scene, 0, 4));
        Assert.Equal(scene.Length, BinaryPrimitives.ReadInt32LittleEndian(scene.AsSpan(8)));
        using var json = JsonDocument.Parse(scene.AsMemory(20, BinaryPrimitives.ReadInt32LittleEndian(scene.AsSpan(12))));
        string names = string.Join('\n', json.RootElement.GetProperty("nodes").EnumerateArray().Select(n => n.TryGetProperty("name", out JsonElement name) ? name.GetString() : ""));
        Assert.All(study.Report.Verdicts, v => Assert.Contains(v.Obstacle.Id, names, StringComparison.Ordinal));
        Assert.All(study.Report.Scenario.Layout.Sensors, s => Assert.Contains(s.Name, names, StringComparison.Ordinal));
        Assert.All(
            study.Report.BlindZones.Where(z => z.ProbeName == study.Report.Maps[0].Probe.Name), z => Assert.Contains($"blind zone {z.Name}", names, StringComparison.Ordinal));
        Assert.Matches("head", names);
    }

    [Fact]
    public void ShellLiesWhereTheMarginTurns()
    {
        PosedLayout posed = study.Report.Posed;
        ProbeTarget probe = ProbeTarget.Of(study.Report.Scenario.Probes[0]);
        SensorAtPose pose = posed.Sensor(0, 0);
        Vec3 origin = pose.MidpointMetres;
        double range = DetectionShell.RangeMetres(posed, 0, probe, origin, pose.Boresight);
        Assert.InRange(range, 0.3, 5.9);
        Assert.True(posed.MarginDecibels(0, 0, probe, origin + (range * pose.Boresight)) >= 0);
        for (double beyond = range + 0.02; beyond < 6; beyond += 0.1)
        {
            Assert.True(posed.MarginDecibels(0, 0, probe, origin + (beyond * pose.Boresight)) < 0, $"heard again at {beyond} m, beyond the shell at {range} m");
        }
    }

    [Fact]
    public void ShellIsClosed()
    {
        TriangleMesh mesh = DetectionShell.Of(study.Report.Posed, 0, ProbeTarget.Of(study.Report.Scenario.Probes[0]));
        var edges = mesh.Facets.SelectMany(f => new[] { (f.A, f.B), (f.B, f.C), (f.C, f.A) }).ToHashSet();
        Assert.Equal(3 * mesh.Facets.Length, edges.Count);
        Assert.All(edges, e => Assert.Contains((e.Item2, e.Item1), edges));

        // Counter-clockwise seen from outside: the volume by the divergence theorem is positive.
        double volume = mesh.Facets.Sum(f => mesh.Vertices[f.A].Dot(mesh.Vertices[f.B].Cross(mesh.Vertices[f.C])) / 6);
        Assert.InRange(volume, 0.01, 100);
    }

    [Fact]
    public void PicturesSayWhatTheTablesSay()
    {
        ApproachMap map = study.Report.Maps[1];
        BlindZone[] zones = [.. study.Report.BlindZones.Where(z => z.ProbeName == map.Probe.Name)];
        string finding = MapFigures.Finding(map, zones);
        Assert.Contains($"Worst of {zones.Length} blind zones", finding, StringComparison.Ordinal);
        foreach (BandShare share in map.Shares().Where(s => s.Cells > 0))
        {
            Match said = Regex.Match(finding, $"{Words.Of(share.Band)} (\\d+)\u00a0%");
            Assert.True(said.Success, finding);
            Assert.Equal(100 * share.WarnedFraction, double.Parse(said.Groups[1].Value), 0.51);
        }
    }

    [Theory]
    [InlineData(0, "0\u00a0%")]
    [InlineData(0.001, "under 1\u00a0%")]
    [InlineData(0.999, "over 99\u00a0%")]
    [InlineData(1, "100\u00a0%")]
    public void SharesNeverFlatter(double fraction, string text) => Assert.Equal(text, FigureWords.Percent(fraction));
}
