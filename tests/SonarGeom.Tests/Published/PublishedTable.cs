using System.Globalization;

namespace SonarGeom.Tests.Published;

/// <summary>A table of published, measured or independently computed values from <c>Published/Data</c>; lines from # on say where it comes from.</summary>
public sealed class PublishedTable
{
    private readonly Dictionary<string, int> _columns;

    private PublishedTable(string name, Dictionary<string, int> columns, IReadOnlyList<Row> rows)
    {
        Name = name;
        _columns = columns;
        Rows = rows;
    }

    public string Name { get; }

    public IReadOnlyList<Row> Rows { get; private set; }

    /// <summary>Reads a table; it must have rows, so that a test over it cannot pass by being empty.</summary>
    public static PublishedTable Read(string fileName)
    {
        string path = Path.Combine(AppContext.BaseDirectory, "Published", "Data", fileName);
        List<string[]> lines = [.. File.ReadLines(path).Where(line => line.Length > 0 && line[0] != '#').Select(Split)];
        Assert.True(lines.Count > 1, $"{fileName} has no rows");
        var columns = lines[0].Select((name, index) => (name, index)).ToDictionary(pair => pair.name, pair => pair.index);
        var table = new PublishedTable(fileName, columns, []);
        table.Rows = [.. lines.Skip(1).Select((cells, index) => new Row(table, cells, index + 1))];
        return table;
    }

    private static string[] Split(string line)
    {
        var cells = new List<string>();
        var cell = new System.Text.StringBuilder();
        bool quoted = false;
        foreach (char c in line)
        {
            if (c == '"')
            {
                quoted = !quoted;
            }
            else if (c == ',' && !quoted)
            {
                cells.Add(cell.ToString());
                cell.Clear();
            }
            else
            {
                cell.Append(c);
            }
        }

        cells.Add(cell.ToString());
        return [.. cells];
    }

    /// <summary>One row; numbers by column name.</summary>
    public sealed class Row(PublishedTable table, string[] cells, int number)
    {
        public double this[string column] => double.Parse(cells[table._columns[column]], CultureInfo.InvariantCulture);

        public string Text(string column) => cells[table._columns[column]];

        public override string ToString() => $"{table.Name} row {number}: {string.Join(", ", cells)}";
    }
}
