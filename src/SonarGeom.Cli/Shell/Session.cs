namespace SonarGeom.Cli.Shell;

/// <summary>Where one run of the tool talks to.</summary>
/// <param name="output">For results only.</param>
/// <param name="error">For faults and progress.</param>
/// <param name="errorIsTerminal">Whether a person watches the error stream.</param>
/// <param name="cancellation">Stops the run.</param>
internal sealed class Session(TextWriter output, TextWriter error, bool errorIsTerminal, CancellationToken cancellation)
{
    internal TextWriter Output => output;

    internal TextWriter Error => error;

    internal bool ErrorIsTerminal => errorIsTerminal;

    internal CancellationToken Cancellation => cancellation;
}
