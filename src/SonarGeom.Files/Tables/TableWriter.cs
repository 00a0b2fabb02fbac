using System.Globalization;
using CsvHelper;

namespace SonarGeom.Files.Tables;

/// <summary>Writes a comma-separated table: UTF-8 without mark, lines ending in LF, numbers with a point.</summary>
public sealed class TableWriter : IDisposable
{
    private readonly CsvWriter _writer;
    private readonly int _columns;
    private int _cells;

    /// <summary>Begins a table with its header.</summary>
    /// <param name="stream">Where the table is written; it is left open.</param>
    /// <param name="columns">The names of the columns, each with its unit.</param>
    public TableWriter(Stream stream, params IReadOnlyList<string> columns)
    {
        ArgumentNullException.ThrowIfNull(columns);
        _writer = CsvWriter.Create(stream, new CsvWriterOptions { NewLine = "\n" }, true);
        _columns = columns.Count;
        foreach (string column in columns)
        {
            _writer.WriteField(column);
        }

        _writer.EndRecord();
    }

    /// <summary>Writes the next cell of the row as text.</summary>
    /// <param name="text">The text; null leaves the cell empty.</param>
    /// <returns>This writer, so that cells can be chained.</returns>
    public TableWriter Cell(string? text)
    {
        if (++_cells > _columns)
        {
            throw new InvalidOperationException($"The row has more than the {_columns} cells of the header.");
        }

        _writer.WriteField(text ?? string.Empty);
        return this;
    }

    /// <summary>Writes the next cell of the row as a number.</summary>
    /// <param name="value">The number; null, NaN and infinities leave the cell empty. [unit of the column]</param>
    /// <param name="significantDigits">Digits kept, from 1 to 17; 17 writes the shortest text that reads back as the same number.</param>
    /// <returns>This writer, so that cells can be chained.</returns>
    public TableWriter Cell(double? value, int significantDigits = 6) =>
        Cell(value is { } number && double.IsFinite(number) ? Digits(number, significantDigits) : null);

    /// <summary>Writes the next cell of the row as a whole number.</summary>
    /// <param name="value">The number; null leaves the cell empty.</param>
    /// <returns>This writer, so that cells can be chained.</returns>
    public TableWriter Cell(int? value) => Cell(value?.ToString(CultureInfo.InvariantCulture));

    /// <summary>Leaves the next cell of the row empty.</summary>
    /// <returns>This writer, so that cells can be chained.</returns>
    public TableWriter Empty() => Cell(string.Empty);

    /// <summary>Ends the row.</summary>
    /// <exception cref="InvalidOperationException">The row has fewer cells than the header.</exception>
    public void EndRow()
    {
        if (_cells != _columns)
        {
            throw new InvalidOperationException($"The row has {_cells} cells; the header has {_columns}.");
        }

        _writer.EndRecord();
        _cells = 0;
    }

    /// <summary>Writes what is still held back; the stream stays open.</summary>
    public void Dispose() => _writer.Dispose();

    /// <summary>Writes a number with a point, without exponent where that stays short, and without a negative zero.</summary>
    internal static string Digits(double value, int significantDigits)
    {
        if (significantDigits is < 1 or > 17)
        {
            throw new ArgumentOutOfRangeException(nameof(significantDigits), $"significantDigits is {significantDigits}; it must be from 1 to 17.");
        }

        string text = significantDigits == 17
            ? value.ToString("R", CultureInfo.InvariantCulture)
            : value.ToString($"G{significantDigits}", CultureInfo.InvariantCulture);
        return text == "-0" ? "0" : text;
    }
}
