using System.CommandLine;
using SonarGeom.Cli.Shell;
using SonarGeom.Files;
using SonarGeom.Files.Output;

namespace SonarGeom.Cli.Commands;

/// <summary>Writes the JSON Schemas, with which editors complete and check files while they are typed.</summary>
internal sealed class SchemasCommand : ToolCommand
{
    private readonly Argument<string> _folder = new("FOLDER") { Description = "The folder to write into; it need not exist." };

    internal SchemasCommand()
        : base(
            "schemas",
            "Writes the JSON Schemas of all kinds of input file. Name one as $schema in a file, and editors complete and check it.",
            "schemas my-study/schemas")
    {
        Add(_folder);
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        string path = line.GetRequiredValue(_folder);
        using OutputFolder folder = OutputFolder.Open(path);
        foreach (FileSchema schema in FileSchemas.All)
        {
            folder.WriteText(schema.FileName, schema.Text);
        }

        folder.Commit();
        foreach (FileSchema schema in FileSchemas.All)
        {
            session.Output.WriteLine($"{Path.Combine(path, schema.FileName)}  for a {schema.Kind}");
        }

        return ExitCode.Done;
    }
}
