using System.Collections.Immutable;
using System.Text;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Shapes;
using SonarGeom.Files.Tables;

namespace SonarGeom.Files.Tests.Tables;

public sealed class TableTests
{
    private static readonly Column<string> Id = new("id", new TextShape(10), isRequired: true);
    private static readonly Column<double> X = new("x_m", new NumberShape(-100, 100), isRequired: true);
    private static readonly Column<int> Steps = new("steps", new WholeNumberShape(1, 9));
    private static readonly Column<string> Note = new("note", new TextShape(1000, mayBeEmpty: true));

    [Fact]
    public void ATableIsReadByTheNamesOfItsColumns()
    {
        var rows = Read("x_m,id,note\n 1.5 ,a,\"two, \"\"words\"\"\"\r\n-2e0,b,\n\n3,c,Mühle\n", out FaultList faults);
        Assert.False(faults.Any);
        Assert.Equal([("a", 1.5, null, "two, \"words\""), ("b", -2.0, null, ""), ("c", 3.0, null, "Mühle")], rows.ToArray());
    }

    [Theory]
    [InlineData("id,x_m\na,\"1,5\"", 2, "x_m", "x_m is 1,5; it must be a number from -100 to 100, with a point for decimals.")]
    [InlineData("id,x_m\na,NaN", 2, "x_m", "x_m is NaN; it must be a number from -100 to 100.")]
    [InlineData("id,x_m\na,Infinity", 2, "x_m", "x_m is Infinity; it must be a number from -100 to 100.")]
    [InlineData("id,x_m\na,1e999", 2, "x_m", "x_m is 1e999; it must be a number from -100 to 100.")]
    [InlineData("id,x_m\na,0x10", 2, "x_m", "x_m is 0x10; it must be a number from -100 to 100.")]
    [InlineData("id,x_m\na,100.01", 2, "x_m", "x_m is 100.01; it must be a number from -100 to 100.")]
    [InlineData("id,x_m\na,", 2, "x_m", "x_m is empty; it must be a number from -100 to 100.")]
    [InlineData("id,x_m,steps\na,1,2.5", 2, "steps", "steps is 2.5; it must be a whole number from 1 to 9.")]
    [InlineData("id,x_m\na", 2, null, "The row has 1 cells; it must have 2, as the header has.")]
    [InlineData("id,x_m\na,1,2", 2, null, "The row has 3 cells; it must have 2, as the header has.")]
    [InlineData("id,x_m\n\n\na,1,2", 4, null, "The row has 3 cells; it must have 2, as the header has.")]
    [InlineData("id,x_m\n\"a\nb\",1,2", 2, null, "The row has 3 cells; it must have 2, as the header has.")]
    [InlineData("id,x_m,x_m\na,1,2", 1, null, "The column x_m is given twice; keep one of them.")]
    [InlineData("id,x_mm,x_m\na,1,2", 1, null, "The column x_mm is not known; did you mean x_m?")]
    [InlineData("id,x_m,\na,1,", 1, null, "Column 3 has no name; each column must have one of the names id, x_m, steps, note.")]
    [InlineData("id\na", 1, null, "The column x_m is missing; the table must have it.")]
    [InlineData("id;x_m\na;1,5", 1, null, "The columns are separated by semicolons or tabs; they must be separated by commas, and decimals written with a point.")]
    [InlineData("id,x_m", null, null, "The table has a header but no row; it must have at least one.")]
    [InlineData("id,x_m\na,1\n\"b,2\n", 3, null, "The quotation marks of this row do not match; quote whole cells, and double each mark within them.")]
    [InlineData("id,x_m\na\"b,1\n", 2, null, "The quotation marks of this row do not match; quote whole cells, and double each mark within them.")]
    public void EachWrongThingIsOneSentenceWithLineAndColumn(string text, int? line, string? field, string message)
    {
        Read(text, out FaultList faults);
        Fault fault = Assert.Single(Assert.Throws<InvalidInputException>(faults.ThrowIfAny).Faults);
        Assert.Equal(new Fault("t.csv", line, null, field, message), fault);
    }

    [Fact]
    public void ATableLongerThanTheLimitIsRefusedInGoodTimeAndBoundedMemory()
    {
        StringBuilder million = new("id,x_m\n");
        for (int i = 0; i < 1_000_000; i++)
        {
            million.Append("a,1.5\n");
        }

        InputText text = InputText.FromText("t.csv", million.ToString());
        long before = GC.GetAllocatedBytesForCurrentThread();
        FaultList faults = new();
        TableReader.Read(text, [Id, X, Steps, Note], 100_000, faults, Row);
        Assert.Equal("The table has more than 100000 rows; at most 100000 are read.", Assert.Single(Assert.Throws<InvalidInputException>(faults.ThrowIfAny).Faults).Message);
        Assert.True(GC.GetAllocatedBytesForCurrentThread() - before < 100_000_000);
    }

    [Fact]
    public void NumbersAreWrittenSoThatTheyReadBack()
    {
        using MemoryStream stream = new();
        using (TableWriter writer = new(stream, "id", "x_m", "steps", "note"))
        {
            writer.Cell("a").Cell(0.1 + 0.2, 17).Cell(3).Cell("=1+1, \"x\"\nü").EndRow();
            writer.Cell("b").Cell(-1.0 / 3).Empty().Empty().EndRow();
            writer.Cell("c").Cell(-0.0).Empty().Cell(" ").EndRow();
            writer.Cell("d").Cell(12345678.9).Empty().Cell(double.NaN).EndRow();
        }

        Assert.Equal(
            "id,x_m,steps,note\na,0.30000000000000004,3,\"=1+1, \"\"x\"\"\nü\"\nb,-0.333333,,\nc,0,, \nd,1.23457E+07,,\n",
            Encoding.UTF8.GetString(stream.ToArray()));
    }

    [Fact]
    public void ARowOfTheWrongLengthIsNotWritten()
    {
        using MemoryStream stream = new();
        using TableWriter writer = new(stream, "a", "b");
        writer.Cell(1);
        Assert.Throws<InvalidOperationException>(writer.EndRow);
        writer.Cell(2);
        Assert.Throws<InvalidOperationException>(() => writer.Cell(3));
    }

    private static ImmutableArray<(string Id, double X, int? Steps, string Note)> Read(string text, out FaultList faults)
    {
        faults = new FaultList();
        return TableReader.Read(InputText.FromText("t.csv", text), [Id, X, Steps, Note], 100, faults, Row);
    }

    private static (string Id, double X, int? Steps, string Note) Row(TableRow row) =>
        (row.Required(Id), row.Required(X), row.OrNull(Steps), row.Or(Note, ""));
}
