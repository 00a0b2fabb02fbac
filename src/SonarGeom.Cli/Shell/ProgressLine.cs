using SonarGeom.Studies;

namespace SonarGeom.Cli.Shell;

/// <summary>Tells a person at a terminal how far long work has come, on one line of the error stream that is wiped at the end.</summary>
internal sealed class ProgressLine : IProgress<StudyProgress>, IDisposable
{
    private readonly TextWriter? _to;
    private readonly CancellationToken _cancellation;
    private int _shown;

    /// <summary>Begins; says nothing unless a terminal is there and the user wants it.</summary>
    internal ProgressLine(Session session, bool isQuiet)
    {
        _to = isQuiet || !session.ErrorIsTerminal ? null : session.Error;
        _cancellation = session.Cancellation;
    }

    /// <summary>Shows a stage. Work that the user has stopped ends here, between two stages.</summary>
    /// <exception cref="OperationCanceledException">The user has stopped the work.</exception>
    public void Report(StudyProgress value)
    {
        _cancellation.ThrowIfCancellationRequested();
        if (_to is null)
        {
            return;
        }

        string text = $"{value.DoneFraction * 100,3:0} % {value.Stage}";
        text = text.Length > 78 ? text[..78] : text;
        _to.Write('\r' + text.PadRight(_shown));
        _shown = text.Length;
    }

    /// <summary>Wipes the line.</summary>
    public void Dispose()
    {
        if (_shown > 0)
        {
            _to!.Write('\r' + new string(' ', _shown) + '\r');
        }
    }
}
