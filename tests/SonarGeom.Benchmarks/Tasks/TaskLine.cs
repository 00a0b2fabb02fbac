using System.Globalization;

namespace SonarGeom.Benchmarks.Tasks;

/// <summary>One line of results: a case of a task, how fast it ran and a checksum of what it computed.</summary>
/// <param name="Task">The task: T1, T2, T3 or T4.</param>
/// <param name="Case">The case in the task.</param>
/// <param name="Threads">Number of threads that computed.</param>
/// <param name="Unit">Unit of the three figures: a rate (<c>…/s</c>), or <c>s</c> for seconds.</param>
/// <param name="Check">The checksum, as <c>name=value</c> pairs.</param>
public sealed record TaskLine(string Task, string Case, int Threads, string Unit, string Check)
{
    /// <summary>Gets what did the work: <c>project</c>, with a suffix where there is more than one way.</summary>
    public string Peer { get; init; } = "project";

    /// <summary>Writes the line for work done at a measured speed, as a rate.</summary>
    /// <param name="writer">Takes the line.</param>
    /// <param name="timing">The measured times.</param>
    /// <param name="work">Amount of work of one repetition, in the unit of the rate times seconds.</param>
    public void WriteRate(TextWriter writer, Timing timing, double work) =>
        Write(writer, work / timing.MedianSeconds, work / timing.BestSeconds, work / timing.ProcessorSeconds);

    /// <summary>Writes the line for work done at a measured speed, in seconds.</summary>
    /// <param name="writer">Takes the line.</param>
    /// <param name="timing">The measured times.</param>
    public void WriteSeconds(TextWriter writer, Timing timing) =>
        Write(writer, timing.MedianSeconds, timing.BestSeconds, timing.ProcessorSeconds);

    private void Write(TextWriter writer, double value, double best, double perProcessorSecond) =>
        writer.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{{\"task\":\"{Task}\",\"case\":\"{Case}\",\"peer\":\"{Peer}\",\"threads\":{Threads},\"value\":{value:G6},\"best\":{best:G6},\"percpu\":{perProcessorSecond:G6},\"unit\":\"{Unit}\",\"check\":\"{Check}\"}}"));
}
