using System.Text;
using SonarGeom.Air;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Tables;
using SonarGeom.Quantities;
using SonarGeom.Studies.FieldTests;

namespace SonarGeom.Files.Tests.Tables;

public class FieldSheetTableTests
{
    private static readonly FieldPlan Plan = FieldPlan.Of(
        InputFiles.ReadTransducer("heron-strong-40").Transducer, new FieldSettings(new AirState(Temperature.FromDegreesCelsius(12.5), 64), 3, 5, 2, 0.9));

    private static readonly string Text = Written();

    [Fact]
    public void AFilledSheetIsReadAsItWasPlannedAndFilled()
    {
        string[] rows = Text.TrimEnd('\n').Split('\n');
        rows[1] = Fill(rows[1], "20,17,no,,wind from the left");
        rows[2] = Fill(rows[2], ",5,,,");
        rows[3] = Fill(rows[3], "8,8,yes,\"stand fell, twice\",");
        FieldSheet sheet = FieldSheetTable.ReadText("sheet.csv", string.Join('\n', rows));
        Assert.Equal(Plan.Settings, sheet.Settings);
        Assert.Equal(Plan.Rows.Length, sheet.Observations.Length);
        Assert.Equal(new FieldObservation(1, Plan.Rows[0].Position, 20, 17, string.Empty, "wind from the left"), sheet.Observations[0]);
        Assert.Equal((Plan.Rows[1].Trials, 5), (sheet.Observations[1].Trials, sheet.Observations[1].Reports));
        Assert.Equal(new FieldObservation(3, Plan.Rows[2].Position, 8, 8, "stand fell, twice"), sheet.Observations[2]);
        Assert.False(sheet.Observations[3].IsDone);
        Assert.All(sheet.Observations.Zip(Plan.Rows), p => Assert.Equal(p.Second.Position.OffAxis.Degrees, p.First.Position.OffAxis.Degrees, 1e-9));
    }

    [Theory]
    [InlineData("20,21,no,,", "sheet.csv:2: reports_count is 21; it must be at most the trials that were done, which are 20.")]
    [InlineData("20,,no,,", "sheet.csv:2: reports_count is empty, but 20 trials were done; write 0 if there was no report.")]
    [InlineData("20,3,yes,,", "sheet.csv:2: reason is empty; a row that is excluded must say why.")]
    [InlineData("20,3,no,rain,", "sheet.csv:2: reason is given, but the row is not excluded; write yes under excluded, or move the text to note.")]
    [InlineData("20,3,maybe,,", "sheet.csv:2: excluded is maybe; it must be one of yes, no.")]
    [InlineData("-1,3,no,,", "sheet.csv:2: done_trials_count is -1; it must be")]
    [InlineData("20,3.5,no,,", "sheet.csv:2: reports_count is 3.5; it must be")]
    public void EachWrongThingIsOneSentence(string filled, string message)
    {
        string[] rows = Text.TrimEnd('\n').Split('\n');
        rows[1] = Fill(rows[1], filled);
        Fault fault = Assert.Single(Assert.Throws<InvalidInputException>(() => FieldSheetTable.ReadText("sheet.csv", string.Join('\n', rows))).Faults);
        Assert.StartsWith(message, fault.ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void ASheetIsOneTestInOneAirWithItsRowsNumbered()
    {
        Assert.Contains("No row of the sheet is filled", Assert.Throws<InvalidInputException>(() => FieldSheetTable.ReadText("sheet.csv", Text)).Message, StringComparison.Ordinal);
        string[] rows = Text.TrimEnd('\n').Split('\n');
        rows[1] = Fill(rows[1], "20,17,no,,");
        rows[2] = Fill(rows[2], "20,17,no,,").Replace(",12.5,64,", ",18,64,", StringComparison.Ordinal);
        rows[3] = "1" + rows[3][1..];
        string[] faults = [.. Assert.Throws<InvalidInputException>(() => FieldSheetTable.ReadText("sheet.csv", string.Join('\n', rows))).Faults.Select(f => f.ToString())];
        Assert.Equal(2, faults.Length);
        Assert.Contains("temperature_c is", faults[0], StringComparison.Ordinal);
        Assert.Contains("a sheet is one test in one air", faults[0], StringComparison.Ordinal);
        Assert.Contains("row is 1, which line 2 has already", faults[1], StringComparison.Ordinal);
    }

    private static string Fill(string row, string filled)
    {
        Assert.EndsWith(",,,,,", row, StringComparison.Ordinal);
        return row[..^4] + filled;
    }

    private static string Written()
    {
        using var stream = new MemoryStream();
        FieldSheetTable.Write(stream, Plan);
        return Encoding.UTF8.GetString(stream.ToArray());
    }
}
