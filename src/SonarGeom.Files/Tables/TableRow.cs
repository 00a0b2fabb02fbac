using System.Text;
using CsvHelper;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Tables;

/// <summary>The row of a table that is now being read.</summary>
internal sealed class TableRow(string file, CsvReader reader, IReadOnlyDictionary<string, int> places, FaultList faults)
{
    private readonly Dictionary<Column, int> _placeOf = [];
    private int _faultsBefore;

    /// <summary>Gets whether a fault was added since the row began.</summary>
    internal bool HasFault => faults.Count > _faultsBefore;

    /// <summary>Gets the line on which the row begins, from 1.</summary>
    internal int Line => (int)Math.Min(reader.LineNumber, int.MaxValue);

    /// <summary>Notes that the reader has moved to the next row.</summary>
    internal void Begin() => _faultsBefore = faults.Count;

    /// <summary>Reads a cell; an empty cell, or one whose column is not there, is null.</summary>
    internal T? OrNull<T>(Column<T> column)
        where T : struct =>
        TryRead(column, out T value) ? value : null;

    /// <summary>Reads a cell, or returns a value in place of an empty one.</summary>
    internal T Or<T>(Column<T> column, T byDefault) => TryRead(column, out T value) ? value : byDefault;

    /// <summary>Reads a cell that must not be empty; when it is, a fault is added.</summary>
    internal T Required<T>(Column<T> column, string why = "")
    {
        if (Text(column).Length == 0)
        {
            Fault(column, $"{column.Name} is empty{why}; it must be {column.Shape.AllowedInCell}.");
        }

        return TryRead(column, out T value) ? value : default!;
    }

    /// <summary>Returns whether a cell has content.</summary>
    internal bool Has(Column column) => Text(column).Length > 0;

    /// <summary>Returns the text of a cell without the blanks around it; empty when the column is not there.</summary>
    internal string Text(Column column)
    {
        if (!_placeOf.TryGetValue(column, out int place))
        {
            place = places.GetValueOrDefault(column.Name, -1);
            _placeOf[column] = place;
        }

        return place < 0 || place >= reader.FieldCount ? string.Empty : Encoding.UTF8.GetString(reader.GetSpan(place)).Trim();
    }

    /// <summary>Adds a fault at a cell.</summary>
    internal void Fault(Column column, string message) => faults.Add(new Fault(file, Line, null, column.Name, message));

    /// <summary>Adds a fault at the row.</summary>
    internal void Fault(string message) => faults.Add(new Fault(file, Line, null, null, message));

    /// <summary>Adds the faults of another file that the row names.</summary>
    internal void Fault(InvalidInputException invalid) => faults.AddRange(invalid);

    private bool TryRead<T>(Column<T> column, out T value)
    {
        value = default!;
        string text = Text(column);
        if (text.Length == 0)
        {
            return false;
        }

        if (column.Shape.TryParse(text, out value))
        {
            return true;
        }

        string hint = text.Contains(',', StringComparison.Ordinal) && column.Shape is Shapes.NumberShape or Shapes.WholeNumberShape
            ? ", with a point for decimals"
            : string.Empty;
        Fault(column, $"{column.Name} is {PlacedValue.Short(text)}; it must be {column.Shape.AllowedInCell}{hint}.");
        return false;
    }
}
