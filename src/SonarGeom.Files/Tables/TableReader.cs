using System.Collections.Immutable;
using CsvHelper;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Tables;

/// <summary>Reads comma-separated tables strictly: known columns only, each once, as many cells in every row as in the header.</summary>
internal static class TableReader
{
    private static readonly CsvReaderOptions Strict = new()
    {
        Separator = ',',
        MalformedData = CsvMalformedDataHandling.Throw,
        TrackLineNumbers = true,
    };

    /// <summary>Reads all rows of a table; what is wrong is added to the faults, and the rows without fault are returned.</summary>
    /// <param name="text">The text of the table.</param>
    /// <param name="columns">The columns that the table may have.</param>
    /// <param name="mostRows">The most rows that are read; a longer table is refused.</param>
    /// <param name="faults">Where faults are added.</param>
    /// <param name="make">Makes the result of one row; the result is not used when a fault was added meanwhile.</param>
    internal static ImmutableArray<T> Read<T>(InputText text, IReadOnlyList<Column> columns, int mostRows, FaultList faults, Func<TableRow, T> make)
    {
        try
        {
            using CsvReader reader = CsvReader.Create(text.Utf8, Strict);
            reader.ReadHeader();
            if (Header(text.Name, reader, columns, faults) is not { } places)
            {
                return [];
            }

            return Rows(text.Name, reader, places, mostRows, faults, make);
        }
        catch (CsvFormatException e)
        {
            faults.Add(new Fault(text.Name, e.LineNumber > 0 ? (int)e.LineNumber : null, null, null, "The quotation marks of this row do not match; quote whole cells, and double each mark within them."));
            return [];
        }
    }

    private static Dictionary<string, int>? Header(string file, CsvReader reader, IReadOnlyList<Column> columns, FaultList faults)
    {
        int before = faults.Count;
        string[] known = [.. columns.Select(c => c.Name)];
        Dictionary<string, int> places = new(StringComparer.Ordinal);
        string[] header = [.. reader.Headers.Select(h => h.Trim())];
        if (header.Length == 1 && (header[0].Contains(';', StringComparison.Ordinal) || header[0].Contains('\t', StringComparison.Ordinal)))
        {
            Add("The columns are separated by semicolons or tabs; they must be separated by commas, and decimals written with a point.");
            return null;
        }

        for (int i = 0; i < header.Length; i++)
        {
            string name = header[i];
            if (name.Length == 0)
            {
                Add($"Column {i + 1} has no name; each column must have one of the names {string.Join(", ", known)}.");
            }
            else if (!known.Contains(name, StringComparer.Ordinal))
            {
                Add($"The column {PlacedValue.Short(name)} is not known; {NearestName.Advice(name, known)}");
            }
            else if (!places.TryAdd(name, i))
            {
                Add($"The column {name} is given twice; keep one of them.");
            }
        }

        foreach (Column column in columns)
        {
            if (column.IsRequired && !places.ContainsKey(column.Name))
            {
                Add($"The column {column.Name} is missing; the table must have it.");
            }
        }

        return faults.Count == before ? places : null;

        void Add(string message) => faults.Add(new Fault(file, 1, null, null, message));
    }

    private static ImmutableArray<T> Rows<T>(string file, CsvReader reader, Dictionary<string, int> places, int mostRows, FaultList faults, Func<TableRow, T> make)
    {
        ImmutableArray<T>.Builder all = ImmutableArray.CreateBuilder<T>();
        TableRow row = new(file, reader, places, faults);
        int count = 0;
        while (reader.Read())
        {
            if (++count > mostRows)
            {
                faults.Add(new Fault(file, row.Line, null, null, $"The table has more than {mostRows} rows; at most {mostRows} are read."));
                return [];
            }

            if (reader.FieldCount != places.Count)
            {
                row.Fault($"The row has {reader.FieldCount} cells; it must have {places.Count}, as the header has.");
                continue;
            }

            row.Begin();
            T made = make(row);
            if (!row.HasFault)
            {
                all.Add(made);
            }
        }

        if (count == 0)
        {
            faults.Add(new Fault(file, null, null, null, "The table has a header but no row; it must have at least one."));
        }

        return all.ToImmutable();
    }
}
