using System.Collections.Immutable;
using System.CommandLine;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Files;
using SonarGeom.Files.Catalogue;

namespace SonarGeom.Cli.Commands;

/// <summary>Lists what ships with the tool.</summary>
internal sealed class CatalogueCommand : ToolCommand
{
    private readonly record struct Entry(string Kind, string Name, string Description);

    private static readonly ResultTable<Entry> Entries = new(
        new("kind", "kind", e => Cell.Of(e.Kind)),
        new("name", "name", e => Cell.Of(e.Name)),
        new("description", null, e => Cell.Of(e.Description)));

    private readonly AnswerOptions _answer;

    internal CatalogueCommand()
        : base("catalogue", "Lists the scenarios, layouts, transducers, wearers, probes and sets of obstacles that ship with the tool.", "catalogue")
    {
        _answer = new AnswerOptions(this, "the list");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        ImmutableArray<Entry> all =
        [
            .. ShippedCatalogue.Scenarios.Select(n => new Entry("scenario", n, InputFiles.ReadScenario(n).Scenario.Description)),
            .. ShippedCatalogue.Layouts.Select(n => new Entry("layout", n, InputFiles.ReadLayout(n).Description)),
            .. ShippedCatalogue.Transducers.Select(n => new Entry("transducer", n, InputFiles.ReadTransducer(n).Transducer.Description)),
            .. ShippedCatalogue.Wearers.Select(n => new Entry("wearer", n, InputFiles.ReadWearer(n).Description)),
            .. ShippedCatalogue.Probes.Select(n => new Entry("probe", n, InputFiles.ReadProbe(n).Description)),
            .. ShippedCatalogue.ObstacleSets.Select(n => new Entry("obstacles", n, $"{InputFiles.ReadObstacles(n).Length} obstacles")),
        ];
        if (_answer.IsCsv(line))
        {
            Entries.WriteCsv(session.Output, all);
        }
        else if (_answer.IsJson(line))
        {
            JsonResult.Write(session.Output, "catalogue", null, json => Entries.WriteArray(json, "entries", all));
        }
        else
        {
            foreach (IGrouping<string, Entry> kind in all.GroupBy(e => e.Kind))
            {
                session.Output.WriteLine($"{kind.Key}:");
                int width = kind.Max(e => e.Name.Length) + 4;
                foreach (Entry entry in kind)
                {
                    session.Output.WriteLine($"  {entry.Name.PadRight(width - 2)}{Wrapping.Fold(entry.Description, 100, width)}");
                }
            }
        }

        return ExitCode.Done;
    }
}
