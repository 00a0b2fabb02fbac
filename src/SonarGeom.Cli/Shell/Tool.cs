using System.CommandLine;
using System.Reflection;
using SonarGeom.Cli.Commands;
using SonarGeom.Files.Faults;

namespace SonarGeom.Cli.Shell;

/// <summary>The whole tool: reads the command line, runs the command, and turns what goes wrong into one sentence and an exit code.</summary>
internal static class Tool
{
    /// <summary>Gets the version of the tool.</summary>
    internal static string Version { get; } =
        typeof(Tool).Assembly.GetCustomAttribute<AssemblyInformationalVersionAttribute>()?.InformationalVersion.Split('+')[0] ?? "0";

    /// <summary>Returns the main command with all the others under it.</summary>
    internal static StudyCommand Commands()
    {
        var main = new StudyCommand();
        ToolCommand[] others =
        [
            new CompareCommand(), new HeadReviewCommand(), new TrialsCommand(), new FirmwareCommand(), new ExposureCommand(), new FieldTestCommand(), new MapCommand(), new AimCommand(), new SliceCommand(), new ExplainCommand(), new TraceCommand(),
            new WalkUpCommand(), new FalseAlertsCommand(), new EchoCommand(), new EnginesCommand(), new TransducerCommand(), new BodyCommand(), new StrideCommand(),
            new AirCommand(), new CatalogueCommand(), new StarterCommand(), new CheckCommand(), new SchemasCommand(),
        ];
        foreach (ToolCommand command in others)
        {
            main.Add(command);
        }

        return main;
    }

    /// <summary>Runs one command line.</summary>
    internal static ExitCode Run(IReadOnlyList<string> arguments, Session session)
    {
        StudyCommand main = Commands();
        var help = new Option<bool>("--help", "-h", "-?") { Description = "Shows this help.", Recursive = true };
        var version = new Option<bool>("--version") { Description = "Shows the version." };
        var trace = new Option<bool>("--trace") { Description = "Shows where in the code a fault of the tool arose.", Recursive = true };
        main.Add(help);
        main.Add(version);
        main.Add(trace);
        ParseResult line = main.Parse(arguments, new ParserConfiguration { EnablePosixBundling = false, ResponseFileTokenReplacer = null });
        var command = (ToolCommand)line.CommandResult.Command;
        if (line.GetResult(help) is { Implicit: false })
        {
            HelpText.Write(command, ReferenceEquals(command, main) ? [] : [help, trace], session.Output);
            return ExitCode.Done;
        }

        if (line.GetResult(version) is { Implicit: false })
        {
            session.Output.WriteLine($"sonargeom {Version}");
            return ExitCode.Done;
        }

        if (UsageErrors.Of(line) is { } sentence)
        {
            session.Error.WriteLine($"sonargeom: {sentence}");
            return ExitCode.BadInput;
        }

        return Guarded(command, line, session, arguments.Contains("--trace"));
    }

    private static ExitCode Guarded(ToolCommand command, ParseResult line, Session session, bool showTrace)
    {
        try
        {
            return command.Run(line, session);
        }
        catch (InvalidInputException invalid)
        {
            foreach (Fault fault in invalid.Faults)
            {
                session.Error.WriteLine(fault);
            }

            return ExitCode.BadInput;
        }
        catch (UsageException usage)
        {
            session.Error.WriteLine($"sonargeom: {usage.Message}");
            return ExitCode.BadInput;
        }
        catch (OperationCanceledException) when (session.Cancellation.IsCancellationRequested)
        {
            session.Error.WriteLine("sonargeom: Stopped; nothing was written.");
            return ExitCode.Stopped;
        }
        catch (Exception refused) when (refused is IOException or UnauthorizedAccessException)
        {
            session.Error.WriteLine($"sonargeom: A file or the output cannot be written or read: {refused.Message.ReplaceLineEndings(" ").TrimEnd('.')}.");
            return ExitCode.BadInput;
        }
        catch (Exception ours)
        {
            Exception first = ours is AggregateException { InnerExceptions: [var inner, ..] } ? inner : ours;
            session.Error.WriteLine(
                $"sonargeom: A fault of the tool, not of your input: {first.Message.ReplaceLineEndings(" ").TrimEnd('.')}{(showTrace ? "." : "; run with --trace to see more.")}");
            if (showTrace)
            {
                session.Error.WriteLine(ours);
            }

            return ExitCode.OurFault;
        }
    }
}
