using System.Buffers.Text;
using System.Text;
using SonarGeom.Coverage;
using SonarGeom.Echoes;

namespace SonarGeom.Cli.Results;

/// <summary>Writes the numeric grids of maps and slices, one row for each cell; written directly, because there are many.</summary>
internal static class GridCsv
{
    /// <summary>Returns the file of an approach map, in UTF-8.</summary>
    internal static byte[] Of(ApproachMap map) => Bytes(stream => Write(stream, map));

    /// <summary>Returns the file of a slice, in UTF-8.</summary>
    internal static byte[] Of(MarginSlice slice) => Bytes(stream => Write(stream, slice));

    /// <summary>Writes an approach map.</summary>
    internal static void Write(Stream stream, ApproachMap map)
    {
        var row = new RowBuffer(stream);
        row.Text("y_m,z_m,band,is_in_silhouette,warning_s,unbroken_warning_s,held_warning_s,is_warned_in_time,cause,first_sensor,sensors_hearing_count").End();
        CoverageGrid grid = map.Grid;
        for (int r = 0; r < grid.Rows; r++)
        {
            string band = Words.Of(map.RowBands[r]);
            for (int c = 0; c < grid.Columns; c++)
            {
                int i = grid.Index(c, r);
                row.Number(grid.YMetres(c), 4).Comma().Number(grid.ZMetres(r), 4).Comma().Text(band).Comma()
                    .Text(map.InSilhouette[i] ? "true" : "false").Comma()
                    .Number(map.WarningSeconds[i], 2).Comma().Number(map.UnbrokenWarningSeconds[i], 2).Comma().Number(map.HeldWarningSeconds[i], 2).Comma()
                    .Text(map.IsWarnedInTime(i) ? "true" : "false").Comma()
                    .Text(map.Causes[i] == LimitingCause.None && !map.IsWarnedInTime(i) ? string.Empty : Words.Code(map.Causes[i])).Comma()
                    .Quoted(map.FirstSensor[i] >= 0 ? map.SensorNames[map.FirstSensor[i]] : string.Empty).Comma()
                    .Number(map.SensorsHearing[i], 0).End();
            }
        }

        row.Flush();
    }

    /// <summary>Writes a slice; the margin is empty where no sensor hears anything.</summary>
    internal static void Write(Stream stream, MarginSlice slice)
    {
        bool isPlan = slice.Plane == SlicePlane.Plan;
        var row = new RowBuffer(stream);
        row.Text("x_m,y_m,z_m,margin_db").End();
        for (int r = 0; r < slice.Rows; r++)
        {
            double other = slice.FirstOtherMetres + (r * slice.CellMetres);
            for (int c = 0; c < slice.Columns; c++)
            {
                row.Number(slice.FirstXMetres + (c * slice.CellMetres), 4).Comma()
                    .Number(isPlan ? other : slice.AtMetres, 4).Comma()
                    .Number(isPlan ? slice.AtMetres : other, 4).Comma()
                    .Number(Heard(slice.MarginDecibels[(r * slice.Columns) + c]), 1).End();
            }
        }

        row.Flush();
    }

    private static byte[] Bytes(Action<Stream> write)
    {
        using var buffer = new MemoryStream();
        write(buffer);
        return buffer.ToArray();
    }

    /// <summary>Writes a difference map.</summary>
    internal static void Write(Stream stream, Studies.DifferenceMap map)
    {
        var row = new RowBuffer(stream);
        row.Text("y_m,z_m,is_in_silhouette,difference_s").End();
        CoverageGrid grid = map.Grid;
        for (int r = 0; r < grid.Rows; r++)
        {
            for (int c = 0; c < grid.Columns; c++)
            {
                int i = grid.Index(c, r);
                row.Number(grid.YMetres(c), 4).Comma().Number(grid.ZMetres(r), 4).Comma()
                    .Text(map.InSilhouette[i] ? "true" : "false").Comma().Number(map.DifferenceSeconds[i], 2).End();
            }
        }

        row.Flush();
    }

    // Levels that stand for no echo at all.
    private static double Heard(double marginDecibels) => marginDecibels > -200 ? marginDecibels : double.NaN;

    private sealed class RowBuffer(Stream stream)
    {
        private readonly byte[] _bytes = new byte[1 << 16];
        private int _length;

        internal RowBuffer Text(string text)
        {
            _length += Encoding.UTF8.GetBytes(text, _bytes.AsSpan(_length));
            return this;
        }

        internal RowBuffer Quoted(string text) =>
            text.AsSpan().IndexOfAny(",\"\n\r") < 0 ? Text(text) : Text($"\"{text.Replace("\"", "\"\"", StringComparison.Ordinal)}\"");

        internal RowBuffer Comma()
        {
            _bytes[_length++] = (byte)',';
            return this;
        }

        internal RowBuffer Number(double value, int decimals)
        {
            if (double.IsFinite(value))
            {
                double rounded = Math.Round(value, decimals, MidpointRounding.AwayFromZero) + 0.0;
                Utf8Formatter.TryFormat(rounded, _bytes.AsSpan(_length), out int written, new System.Buffers.StandardFormat('F', (byte)decimals));
                _length += written;
            }

            return this;
        }

        internal void End()
        {
            _bytes[_length++] = (byte)'\n';
            if (_length > _bytes.Length - 4096)
            {
                Flush();
            }
        }

        internal void Flush()
        {
            stream.Write(_bytes, 0, _length);
            _length = 0;
        }
    }
}
