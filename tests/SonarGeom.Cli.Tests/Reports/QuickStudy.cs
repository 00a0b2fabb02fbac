using System.Net;
using System.Text;
using System.Text.RegularExpressions;
using SonarGeom.Cli.Commands;
using SonarGeom.Cli.Reports;
using SonarGeom.Coverage;
using SonarGeom.Files;
using SonarGeom.Files.Bodies;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Tests.Reports;

/// <summary>One coarse study and its report, which several tests look at.</summary>
public sealed class QuickStudy
{
    public QuickStudy()
    {
        Report = ScenarioStudy.Run(Coarse(), Inputs.Resources(BodyTableFiles.Shipped));
        Files = StudyPictures.Of(Report, Hash);
    }

    internal const string Hash = "0123456789abcdef";

    internal StudyReport Report { get; }

    internal IReadOnlyList<ReportFile> Files { get; }

    internal string Page => TextOf(Files, "report.html");

    /// <summary>The shipped scenario with coarse cells, few phases, few obstacles and a name that tests the markup.</summary>
    internal static Scenario Coarse()
    {
        Scenario shipped = InputFiles.ReadScenario("harbour-promenade").Scenario;
        Probe odd = shipped.Probes[0] with { Name = "branch <30 mm> & \"twigs\"" };
        return shipped.With(
            wearers: [shipped.Wearers[0], shipped.Wearers[1]], probes: [odd, shipped.Probes[2]],
            requirements: [new("all of the head & <shoulders>", HeightBand.Head, odd.Name, 1.0, 1.0)]) with
        {
            Maps = new MapSettings(CellMetres: 0.1),
            Walk = shipped.Walk with { StridePhases = 4 },
            Obstacles = shipped.Obstacles with { Obstacles = [.. shipped.Obstacles.Obstacles.Take(5)] },
        };
    }

    internal static string TextOf(IEnumerable<ReportFile> files, string name) => Encoding.UTF8.GetString(files.Single(f => f.Name == name).Bytes);

    /// <summary>Reads a table of a page by its caption: the headings, then the rows, as a reader hears them.</summary>
    internal static (string[] Headings, string[][] Rows) TableOf(string page, string caption)
    {
        string table = Regex.Matches(page, "<table>.*?</table>", RegexOptions.Singleline).Select(m => m.Value)
            .Single(t => Plain(Regex.Match(t, "<caption[^>]*>(.*?)</caption>").Groups[1].Value) == caption);
        string[][] rows =
        [
            .. Regex.Matches(table, "<tr>(.*?)</tr>", RegexOptions.Singleline)
                .Select(r => Regex.Matches(r.Groups[1].Value, "<t[hd][^>]*>(.*?)</t[hd]>").Select(c => Plain(c.Groups[1].Value)).ToArray()),
        ];
        return (rows[0], rows[1..]);
    }

    internal static string Plain(string markup) => WebUtility.HtmlDecode(Regex.Replace(markup, "<[^>]+>", string.Empty));
}
