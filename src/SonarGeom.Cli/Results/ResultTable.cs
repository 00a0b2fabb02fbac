using System.Collections.Immutable;
using System.Text;
using System.Text.Json;
using SonarGeom.Files.Output;
using SonarGeom.Files.Tables;

namespace SonarGeom.Cli.Results;

/// <summary>A column of a result: the key for programs, with the unit in it, and the heading for people.</summary>
/// <param name="Key">Key in JSON and header in CSV; null for a column of the text alone.</param>
/// <param name="Heading">Heading in text; null leaves the column out there.</param>
/// <param name="Value">The value of a row.</param>
internal sealed record Column<T>(string? Key, string? Heading, Func<T, Cell> Value);

/// <summary>The columns of one kind of result, written as text, CSV or JSON from the same cells.</summary>
/// <param name="columns">The columns, in order.</param>
internal sealed class ResultTable<T>(params Column<T>[] columns)
{
    // Characters that a terminal over the whole screen and a sheet of paper set across both hold.
    private const int PageWidth = 128;

    private readonly Column<T>[] _kept = [.. columns.Where(c => c.Key is not null)];

    /// <summary>Returns the columns for rows that hold one of these.</summary>
    internal IEnumerable<Column<TOther>> Of<TOther>(Func<TOther, T> row) =>
        columns.Select(c => new Column<TOther>(c.Key, c.Heading, other => c.Value(row(other))));

    /// <summary>Writes rows as a comma-separated table.</summary>
    internal void WriteCsv(Stream stream, IEnumerable<T> rows)
    {
        using var table = new TableWriter(stream, [.. _kept.Select(c => c.Key!)]);
        foreach (T row in rows)
        {
            foreach (Column<T> column in _kept)
            {
                table.Cell(column.Value(row).ToCsv());
            }

            table.EndRow();
        }
    }

    /// <summary>Writes rows as a file of comma-separated values.</summary>
    internal void WriteCsv(OutputFolder folder, string name, IEnumerable<T> rows)
    {
        using Stream stream = folder.Create(name);
        WriteCsv(stream, rows);
    }

    /// <summary>Writes rows as a comma-separated table into text.</summary>
    internal void WriteCsv(TextWriter output, IEnumerable<T> rows)
    {
        using var buffer = new MemoryStream();
        WriteCsv(buffer, rows);
        output.Write(Encoding.UTF8.GetString(buffer.GetBuffer(), 0, (int)buffer.Length));
    }

    /// <summary>Writes rows as a JSON array of objects.</summary>
    internal void WriteArray(Utf8JsonWriter json, string name, IEnumerable<T> rows)
    {
        json.WriteStartArray(name);
        foreach (T row in rows)
        {
            json.WriteStartObject();
            WriteMembers(json, row);
            json.WriteEndObject();
        }

        json.WriteEndArray();
    }

    /// <summary>Writes the members of one row into an object that is open.</summary>
    internal void WriteMembers(Utf8JsonWriter json, T row)
    {
        foreach (Column<T> column in _kept)
        {
            json.WritePropertyName(column.Key!);
            column.Value(row).Write(json);
        }
    }

    /// <summary>Returns what people are shown: headings, which columns hold numbers, and the cells row by row.</summary>
    internal (ImmutableArray<string> Headings, ImmutableArray<bool> AreNumbers, ImmutableArray<ImmutableArray<string>> Rows) Shown(IReadOnlyCollection<T> rows)
    {
        Column<T>[] shown = [.. columns.Where(c => c.Heading is not null)];
        Cell[][] cells = [.. rows.Select(r => shown.Select(c => c.Value(r)).ToArray())];
        return (
            [.. shown.Select(c => c.Heading!)],
            [.. shown.Select((_, i) => cells.Any(r => r[i].IsNumber))],
            [.. cells.Select(r => r.Select(c => c.ToText()).ToImmutableArray())]);
    }

    /// <summary>Writes rows as an aligned table for people; what is wider than a page has its headings and its longest words folded.</summary>
    internal void WriteText(TextWriter output, IReadOnlyCollection<T> rows, string indent = "")
    {
        var (headings, areNumbers, cells) = Shown(rows);
        int[] widths = FoldedWidths.Of(headings, areNumbers, cells, PageWidth - indent.Length);
        WriteRow(output, indent, headings, widths, areNumbers, isAtFoot: true);
        foreach (ImmutableArray<string> row in cells)
        {
            WriteRow(output, indent, row, widths, areNumbers);
        }
    }

    /// <summary>Writes one row as facts, one a line.</summary>
    internal void WriteFacts(TextWriter output, T row)
    {
        Column<T>[] shown = [.. columns.Where(c => c.Heading is not null)];
        int width = shown.Max(c => c.Heading!.Length);
        string[] cells = [.. shown.Select(c => c.Value(row).ToText())];
        for (int i = 0; i < shown.Length; i++)
        {
            output.WriteLine($"{shown[i].Heading!.PadRight(width)}  {cells[i].PadLeft(cells.Max(c => c.Length))}".TrimEnd());
        }
    }

    private static void WriteRow(TextWriter output, string indent, ImmutableArray<string> cells, int[] widths, ImmutableArray<bool> right, bool isAtFoot = false)
    {
        ImmutableArray<string>[] folded = [.. cells.Select((c, i) => FoldedWidths.Fold(c, widths[i]))];
        int lines = folded.Max(f => f.Length);
        for (int at = 0; at < lines; at++)
        {
            var line = new StringBuilder(indent);
            for (int i = 0; i < cells.Length; i++)
            {
                int own = isAtFoot ? at - lines + folded[i].Length : at;
                string part = own >= 0 && own < folded[i].Length ? folded[i][own] : string.Empty;
                line.Append(i == 0 ? string.Empty : "  ").Append(right[i] ? part.PadLeft(widths[i]) : part.PadRight(widths[i]));
            }

            output.WriteLine(line.ToString().TrimEnd());
        }
    }
}
