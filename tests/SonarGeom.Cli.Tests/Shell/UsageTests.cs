using System.CommandLine;
using SonarGeom.Cli.Shell;

namespace SonarGeom.Cli.Tests.Shell;

/// <summary>A wrong command line is one sentence with the nearest right one, and exit code 2.</summary>
public sealed class UsageTests
{
    public static TheoryData<string> CommandNames => [.. Tool.Commands().Subcommands.Select(c => c.Name)];

    [Theory]
    [InlineData("compre", "did you mean compare?")]
    [InlineData("habour-promenade", "did you mean harbour-promenade?")]
    [InlineData("--otput x", "There is no option '--otput' here; did you mean --output?")]
    [InlineData("air --from-celsius 3", "There is no option '--from-celsius' here")]
    [InlineData("air extra", "'extra' is one word too many; sonargeom air --help shows what may stand there.")]
    [InlineData("air --from-c 1,5", "--from-c is '1,5'; it must be a number from -20 to 50, with a point for decimals.")]
    [InlineData("air --from-c NaN", "--from-c is 'NaN'; it must be a number")]
    [InlineData("air --from-c 1e9", "--from-c is '1e9'; it must be a number from -20 to 50")]
    [InlineData("air --from-c 10 --to-c 0", "--to-c is 0; it must not be below --from-c, which is 10.")]
    [InlineData("air --from-c", "The option --from-c needs a value")]
    [InlineData("air --from-c 1 --from-c 2", "The option --from-c is given more than once.")]
    [InlineData("air --speed-model cramer", "--speed-model is 'cramer'; it must be one of humid, dry-ideal-gas, linear.")]
    [InlineData("air --json --csv", "--json and --csv cannot be asked for together; choose one.")]
    [InlineData("air --step-c 0.1 --from-c -20 --to-c 50 --step-c 0.1", "--step-c is given more than once.")]
    [InlineData("check", "check needs FILE; for example: sonargeom check")]
    [InlineData("transducer", "transducer needs TRANSDUCER")]
    [InlineData("explain", "explain needs exactly one of --zone, --obstacle, or a cell by --z-m (and --y-m).")]
    [InlineData("explain --obstacle low-brnch", "did you mean low-branch?")]
    [InlineData("trace --obstacle low-brnch", "did you mean low-branch?")]
    [InlineData("trace --sensor brw", "--sensor is 'brw', which the layout does not have; did you mean brow?")]
    [InlineData("walk-up --from-m 1 --to-m 2", "--to-m is 2; it must not be above --from-m, which is 1.")]
    [InlineData("engines --obstacle low-brnch", "did you mean low-branch?")]
    [InlineData("explain --zone x --obstacle low-branch", "explain needs exactly one of")]
    [InlineData("explain --z-m 1 --wearer nobody", "--wearer is 'nobody', which the scenario does not have; known are")]
    [InlineData("explain --z-m 1 --probe rod-26mm", "did you mean rod-25mm?")]
    [InlineData("echo", "echo needs an obstacle and a sensor, or --poses; for example:")]
    [InlineData("echo --kind pole --x-m 2 --sensor-z-m 1 --diameter-m 0.1", "--height-m is missing; a pole must have --height-m, --diameter-m.")]
    [InlineData("echo --kind pole --x-m 1,5 --sensor-z-m 1 --height-m 2 --diameter-m 0.1", "--x-m is 1,5; it must be a number from -200 to 200, with a point for decimals.")]
    [InlineData("echo --kind sphere --x-m 1 --sensor-z-m 1 --diameter-m 0", "--diameter-m is 0; it must be a number above 0")]
    [InlineData("echo --kind sphere --x-m 1 --sensor-z-m 1 --diameter-m 0.1 --transducer swift-narow-40", "did you mean swift-narrow-40?")]
    [InlineData("echo --poses x.csv --x-m 2", "--poses and --x-m cannot be given together")]
    [InlineData("compare single-chest single-chest", "Two of the layouts are named single chest module")]
    [InlineData("body stranger", "The catalogue has no wearer of that name")]
    public void IsOneSentence(string line, string sentence)
    {
        ToolAnswer answer = Workbench.Run(line.Split(' '));
        answer.IsRefused(sentence);
        Assert.Single(answer.ErrorLines);
    }

    [Fact]
    public void NegativeNumbersAreNoOptions() => Assert.Equal(ExitCode.Done, Workbench.Run("air", "--from-c", "-5", "--to-c", "-5").Code);

    [Fact]
    public void ResponseFilesAreNotRead() => Workbench.Run("@anything").IsRefused("@anything");

    [Theory]
    [MemberData(nameof(CommandNames))]
    public void HelpHasAnExampleThatParses(string name)
    {
        ToolAnswer help = Workbench.Run(name, "--help");
        Assert.Equal(ExitCode.Done, help.Code);
        Assert.Equal(string.Empty, help.Error);
        Assert.Contains("Usage:", help.Output, StringComparison.Ordinal);
        StudyCommandTree tree = new();
        ToolCommand command = tree.Find(name);
        Assert.Contains($"Example:\n  sonargeom {command.Example}\n", help.Output, StringComparison.Ordinal);
        Assert.Null(UsageErrors.Of(tree.Parse(command.Example)));
        Assert.All(command.Options.Where(o => o.Name != "--help"), o => Assert.False(string.IsNullOrWhiteSpace(o.Description), o.Name));
    }

    [Fact]
    public void MainHelpNamesEveryCommand()
    {
        ToolAnswer help = Workbench.Run("--help");
        Assert.Equal(ExitCode.Done, help.Code);
        Assert.Contains("Example:\n  sonargeom harbour-promenade", help.Output, StringComparison.Ordinal);
        Assert.All(Tool.Commands().Subcommands, c => Assert.Contains($"\n  {c.Name} ", help.Output, StringComparison.Ordinal));
    }

    [Fact]
    public void VersionIsOneLine() => Assert.Matches(@"^sonargeom \d+\.\d+\.\d+\n$", Workbench.Run("--version").Output);

    [Fact]
    public void NumbersNameTheirUnit()
    {
        string[] units = ["-m", "-mm", "-deg", "-c", "-percent", "-pa", "-khz", "-us-cm", "-ms", "-m-s", "-db", "-per-m3"];
        foreach (Command command in Tool.Commands().Subcommands)
        {
            foreach (Option option in command.Options.Where(o => o.HelpName == "NUMBER"))
            {
                Assert.True(units.Any(u => option.Name.EndsWith(u, StringComparison.Ordinal)), $"{command.Name} {option.Name}");
            }
        }
    }

    private sealed class StudyCommandTree
    {
        private readonly Command _main = Tool.Commands();

        internal ToolCommand Find(string name) => (ToolCommand)_main.Subcommands.First(c => c.Name == name);

        internal ParseResult Parse(string line) => _main.Parse(line.Split(' '), new ParserConfiguration { ResponseFileTokenReplacer = null });
    }
}
