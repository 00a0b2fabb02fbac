using System.Collections.Immutable;
using System.Text;

namespace SonarGeom.Cli.Results;

/// <summary>How wide the columns of a table are, so that it fits a page.</summary>
internal static class FoldedWidths
{
    private const int Gap = 2;
    private const int NarrowestWords = 20;

    /// <summary>Returns the widths: those of the longest cells; where that is too much, headings are folded, then the widest words.</summary>
    /// <param name="headings">The headings.</param>
    /// <param name="areNumbers">Which columns hold numbers: they are never folded.</param>
    /// <param name="rows">The cells row by row.</param>
    /// <param name="page">The width that all columns and the gaps between them should have together.</param>
    internal static int[] Of(ImmutableArray<string> headings, ImmutableArray<bool> areNumbers, ImmutableArray<ImmutableArray<string>> rows, int page)
    {
        int[] cells = [.. headings.Select((_, i) => rows.Select(r => r[i].Length).Append(0).Max())];
        int[] widths = [.. headings.Select((h, i) => Math.Max(cells[i], h.Length))];
        int[] least = [.. headings.Select((h, i) => Math.Max(areNumbers[i] ? cells[i] : LongestWord(rows.Select(r => r[i])), LongestWord([h])))];

        // Headings first: the one that sticks out most, one line more.
        while (Excess() > 0)
        {
            int most = Widest(i => widths[i] > Math.Max(cells[i], LongestWord([headings[i]])) ? widths[i] - cells[i] : 0);
            if (most < 0)
            {
                break;
            }

            widths[most]--;
        }

        while (Excess() > 0)
        {
            int most = Widest(i => !areNumbers[i] && widths[i] > Math.Max(least[i], NarrowestWords) ? widths[i] : 0);
            if (most < 0)
            {
                break;
            }

            widths[most]--;
        }

        return widths;

        int Excess() => widths.Sum() + (Gap * (widths.Length - 1)) - page;

        int Widest(Func<int, int> size) => Enumerable.Range(0, widths.Length).Where(i => size(i) > 0).OrderByDescending(size).FirstOrDefault(-1);
    }

    /// <summary>Folds words into lines of at most a width; a longer word has a line of its own.</summary>
    internal static ImmutableArray<string> Fold(string text, int width)
    {
        if (text.Length <= width)
        {
            return [text];
        }

        var lines = ImmutableArray.CreateBuilder<string>();
        var line = new StringBuilder();
        foreach (string word in text.Split(' '))
        {
            if (line.Length > 0 && line.Length + 1 + word.Length > width)
            {
                lines.Add(line.ToString());
                line.Clear();
            }

            line.Append(line.Length > 0 ? " " : string.Empty).Append(word);
        }

        lines.Add(line.ToString());
        return lines.ToImmutable();
    }

    private static int LongestWord(IEnumerable<string> texts) => texts.SelectMany(t => t.Split(' ')).Select(w => w.Length).Append(1).Max();
}
