namespace SonarGeom.Benchmarks.Tasks;

/// <summary>
/// Runs the timed tasks on files of inputs: <c>tasks DATAFOLDER T1|T2|T3|T4 …</c>. Prints one line of JSON for each case
/// (see <see cref="TaskLine"/>), so that other programs that do the same work can be set beside it.
/// </summary>
public static class TaskRunner
{
    private const int Done = 0;
    private const int BadUsage = 2;

    /// <summary>The tasks by name. Each gets the folder of the inputs and the writer for its lines.</summary>
    private static readonly SortedDictionary<string, Action<string, TextWriter>> Tasks = new(StringComparer.Ordinal)
    {
        ["T1"] = RayTask.Run,
        ["T2"] = CoverageTask.Run,
        ["T3"] = FacetTask.Run,
        ["T4"] = SweepTask.Run,
    };

    /// <summary>Runs the named tasks in the given order.</summary>
    /// <param name="arguments">The folder of the inputs, then one or more task names.</param>
    /// <param name="output">Takes the lines of results.</param>
    /// <param name="errors">Takes the explanation when the arguments are wrong.</param>
    /// <returns>The exit code: 0 done, 2 wrong arguments.</returns>
    public static int Run(ReadOnlySpan<string> arguments, TextWriter output, TextWriter errors)
    {
        if (arguments.Length < 2)
        {
            errors.WriteLine($"usage: tasks DATAFOLDER TASK…, where TASK is one of: {string.Join(' ', Tasks.Keys)}");
            return BadUsage;
        }

        foreach (string name in arguments[1..])
        {
            if (!Tasks.TryGetValue(name, out Action<string, TextWriter>? task))
            {
                errors.WriteLine($"task is {name}; it must be one of: {string.Join(' ', Tasks.Keys)}");
                return BadUsage;
            }

            task(arguments[0], output);
            output.Flush();
        }

        return Done;
    }
}
