using System.CommandLine;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Commands;

/// <summary>Plans field tests and reads their sheets back.</summary>
internal sealed class FieldTestCommand : ToolCommand
{
    internal FieldTestCommand()
        : base(
            "field-test",
            "Plans a field test of a transducer on a stand, with predicted results, and reads the filled sheet back: predicted against observed, and a fit of the "
            + "figure of merit and the effective radius that writes a calibrated transducer.",
            "field-test plan heron-strong-40 --output output/heron-test")
    {
        Add(new FieldPlanCommand());
        Add(new FieldReadCommand());
    }

    internal override ExitCode Run(ParseResult line, Session session) =>
        throw new UsageException($"field-test needs plan or read; for example: sonargeom {Example}.");
}
