using System.Text;

namespace SonarGeom.Cli.Results;

/// <summary>Folds text into lines.</summary>
internal static class Wrapping
{
    /// <summary>Returns text in lines of at most a width; lines after the first are indented, the first is taken to start there.</summary>
    internal static string Fold(string text, int width, int indent)
    {
        var folded = new StringBuilder();
        int at = indent;
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            bool first = at == indent;
            if (!first && at + 1 + word.Length > width)
            {
                folded.Append('\n').Append(' ', indent);
                at = indent;
                first = true;
            }

            if (!first)
            {
                folded.Append(' ');
                at++;
            }

            folded.Append(word);
            at += word.Length;
        }

        return folded.ToString();
    }
}
