using SonarGeom.Studies;

namespace SonarGeom.Cli.Shell;

/// <summary>Tells a person at a terminal how far long work has come, on one line of the error stream that is wiped at the end.</summary>
internal sealed class ProgressLine : IProgress<StudyProgress>, IDisposable
{
    private readonly TextWriter? _to;
    private int _shown;

    /// <summary>Begins; says nothing unless a terminal is there and the user wants it.</summary>
    internal ProgressLine(Session session, bool isQuiet) => _to = isQuiet || !session.ErrorIsTerminal ? null : session.Error;

    /// <inheritdoc/>
    public void Report(StudyProgress value)
    {
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
