using SonarGeom.Cli.Results;

namespace SonarGeom.Cli.Tests.Results;

public sealed class CellTests
{
    private static readonly ResultTable<double> Table = new(
        new("value_m", "value [m]", v => Cell.Of(v, 2)),
        new("name", "name", v => Cell.Of(v > 1 ? "far, or \"away\"" : null)),
        new(null, "only text", v => Cell.Of(v > 1)));

    [Theory]
    [InlineData(1.125, "1.13", "1.13")]
    [InlineData(-0.001, "0.00", "0.00")]
    [InlineData(double.NaN, "–", "")]
    [InlineData(double.NegativeInfinity, "–", "")]
    public void NumbersAreRoundedOnceForAllForms(double value, string text, string csv)
    {
        Cell cell = Cell.Of(value, 2);
        Assert.Equal((text, csv), (cell.ToText(), cell.ToCsv()));
    }

    [Fact]
    public void TextCsvAndJsonShowTheSameCells()
    {
        using var text = new StringWriter { NewLine = "\n" };
        Table.WriteText(text, [0.5, 12.25]);
        Assert.Equal("value [m]  name            only text\n     0.50  –               no\n    12.25  far, or \"away\"  yes\n", text.ToString());
        using var csv = new StringWriter();
        Table.WriteCsv(csv, [0.5, 12.25]);
        Assert.Equal("value_m,name\n0.50,\n12.25,\"far, or \"\"away\"\"\"\n", csv.ToString());
        using var json = new StringWriter();
        JsonResult.Write(json, "test", null, j => Table.WriteArray(j, "rows", [0.5]));
        Assert.Contains("\"value_m\": 0.5,\n      \"name\": null", json.ToString(), StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("brow, chest & belt", "brow-chest-belt")]
    [InlineData("../up", "up")]
    [InlineData("***", "unnamed")]
    public void NamesOfFilesArePlain(string name, string file) => Assert.Equal(file, FileNames.Of(name));

    [Fact]
    public void LongTextIsFoldedBetweenWords() => Assert.Equal("aaa bbb\n  ccc", Wrapping.Fold("aaa bbb ccc", 9, 2));
}
