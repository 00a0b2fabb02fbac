using SonarGeom.Bodies;
using SonarGeom.Files.Bodies;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Tests.Bodies;

public class BodyTableFilesTests
{
    public static TheoryData<string> Wearers => [.. ShippedCatalogue.Wearers];

    [Fact]
    public void Shipped_tables_are_read_whole_and_every_row_has_a_source()
    {
        BodyTables tables = BodyTableFiles.Shipped;
        Assert.Equal(128, tables.AdultPercentiles.Count);
        Assert.Equal(128, tables.AdultRegressions.Count);
        Assert.Equal(38, tables.ChildStatures.Length);
        Assert.Equal(35, tables.StrideTimings.Length);
        Assert.Equal(9, tables.GaitCurves.Length);
        Assert.All(tables.GaitCurves, r => Assert.Equal(17, r.CoefficientsDegrees.Length));
        Assert.All(tables.GaitCurves, r => Assert.Contains(r.Source, tables.Sources.Keys));
        Assert.All(tables.AdultPercentiles.Values, r => Assert.Contains(r.Source, tables.Sources.Keys));
        Assert.All(tables.ChildProportions.Values.SelectMany(r => r), r => Assert.Contains(r.Source, tables.Sources.Keys));
        Assert.All(tables.WalkingExcursions, r => Assert.Contains(r.Source, tables.Sources.Keys));
        Assert.All(tables.Assumptions.Values, r => Assert.Contains(r.Source, tables.Sources.Keys));
    }

    [Fact]
    public void Shipped_numbers_are_in_metres_and_kilograms()
    {
        BodyTables tables = BodyTableFiles.Shipped;
        Assert.Equal(1.755, tables.AdultPercentiles[(BodyMeasure.Stature, Sex.Male)].At(50), 1e-12);
        Assert.Equal(110.7, tables.AdultPercentiles[(BodyMeasure.BodyMass, Sex.Male)].At(95), 1e-12);

        // A line on stature must give the mean at the mean: it checks slope, intercept and their units together.
        foreach (((BodyMeasure measure, Sex sex), AdultRegression line) in tables.AdultRegressions)
        {
            double mean = tables.AdultPercentiles[(BodyMeasure.Stature, sex)].Mean;
            AdultPercentiles row = tables.AdultPercentiles[(measure, sex)];
            Assert.Equal(row.Mean, (line.SlopePerMetre * mean) + line.Intercept, measure == BodyMeasure.BodyMass ? 0.1 : 2e-4);

            // The deviation is tabled to a tenth of a unit.
            double tenth = measure == BodyMeasure.BodyMass ? 0.06 : 6e-5;
            Assert.InRange(line.StandardError, 0, row.StandardDeviation + tenth);
            Assert.InRange(line.StandardErrorGivenMass, 0, line.StandardError + tenth);
        }
    }

    // Standard deviations of a measure, of its line and their correlation belong together: see = sd √(1 − r²).
    [Fact]
    public void Errors_of_the_lines_are_those_of_their_correlations()
    {
        BodyTables tables = BodyTableFiles.Shipped;
        foreach (((BodyMeasure measure, Sex sex), AdultRegression line) in tables.AdultRegressions)
        {
            double deviation = tables.AdultPercentiles[(measure, sex)].StandardDeviation;
            double expected = deviation * Math.Sqrt(1 - (line.Correlation * line.Correlation));

            // Three digits of r near 1 leave a wide band.
            Assert.Equal(expected, line.StandardError, 0.05 * deviation);
        }
    }

    [Theory]
    [MemberData(nameof(Wearers))]
    public void Every_shipped_wearer_can_be_built_and_says_where_its_numbers_come_from(string name)
    {
        WearerSpec spec = InputFiles.ReadWearer(name);
        Body body = Body.Build(spec, BodyTableFiles.Shipped);
        Assert.NotEmpty(spec.Source);
        Assert.NotEmpty(spec.Description);
        Assert.NotEmpty(body.AllSites);
        Assert.NotEmpty(body.Notes);
    }

    [Fact]
    public void Users_can_change_a_number_without_recompiling()
    {
        using ScratchFolder folder = new();
        BodyTableFiles.WriteShipped(folder.Root);
        string file = folder.At("assumptions.csv");
        File.WriteAllText(file, File.ReadAllText(file).Replace("footwear_thickness,0.025", "footwear_thickness,0.060", StringComparison.Ordinal));
        Body platform = Body.Build(new WearerSpec(), BodyTableFiles.ReadFolder(folder.Root));
        Body plain = Body.Build(new WearerSpec(), BodyTableFiles.Shipped);
        Assert.Equal(plain.CrownHeightMetres + 0.035, platform.CrownHeightMetres, 1e-9);
    }

    [Theory]
    [InlineData("adult_percentiles.csv", "stature,male,4082,mm,1756.2", "stature,male,4082,cm,1756.2", "adult_percentiles.csv:2: unit is cm; it must be one of mm, kg.")]
    [InlineData("adult_percentiles.csv", "1601.6,1648.0", "1601,6,1648.0", "adult_percentiles.csv:2: The row has 17 cells; it must have 16, as the header has.")]
    [InlineData("adult_percentiles.csv", "1601.6,1648.0", "1661.6,1648.0", "adult_percentiles.csv:2: p5 is 1648.0, less than p1; percentiles must rise.")]
    [InlineData("adult_percentiles.csv", "1601.6,1648.0", "NaN,1648.0", "adult_percentiles.csv:2: p1 is NaN; it must be a number above 0 and at most 5000.")]
    [InlineData("adult_regression.csv", "stature,male", "stture,male", "adult_regression.csv:2: measure is stture;")]
    [InlineData("adult_regression.csv", "eye_height,male,4082,0.96244,-47.81,0.992,8.61,0.0173,8.61,army2012", "", "adult_regression.csv: The table has no row for eye_height, male; it must have one.")]
    [InlineData("child_stature.csv", "male,2,mm", "male,3,mm", "child_stature.csv:3: The row says again what a row before it says")]
    [InlineData("assumptions.csv", "sternum_base_share", "sternum_share", "assumptions.csv: The table has no row for sternum_base_share; it must have one.")]
    [InlineData("assumptions.csv", "memory,C,sole", "hearsay,C,sole", "assumptions.csv:2: source is hearsay; it must be one of the keys in sources.csv")]
    [InlineData("walking_excursions.csv", "peak_to_peak", "peak", "walking_excursions.csv:1: The column peak is not known")]
    [InlineData("wheelchair_seats.csv", "powered,female,58,523,51,seats466", "", "wheelchair_seats.csv: The table has no row for powered, female; it must have one.")]
    public void A_fault_is_told_in_one_sentence_with_file_and_line(string file, string good, string bad, string message)
    {
        using ScratchFolder folder = new();
        BodyTableFiles.WriteShipped(folder.Root);
        string path = folder.At(file);
        string text = File.ReadAllText(path);
        int at = text.IndexOf(good, StringComparison.Ordinal);
        if (bad.Length == 0)
        {
            string[] lines = text.Split('\n');
            string first = good.Split(',')[0] + "," + good.Split(',')[1] + ",";
            text = string.Join('\n', lines.Where(l => !l.StartsWith(first, StringComparison.Ordinal)));
        }
        else
        {
            Assert.True(at >= 0, $"{good} is not in {file}");
            text = text[..at] + bad + text[(at + good.Length)..];
        }

        File.WriteAllText(path, text);
        InvalidInputException refusal = Assert.Throws<InvalidInputException>(() => BodyTableFiles.ReadFolder(folder.Root));
        Assert.Contains(message, refusal.Message, StringComparison.Ordinal);
        Assert.DoesNotContain("   at ", refusal.Message, StringComparison.Ordinal);
    }

    [Fact]
    public void A_missing_table_is_told_by_name()
    {
        using ScratchFolder folder = new();
        BodyTableFiles.WriteShipped(folder.Root);
        File.Delete(folder.At("child_proportions.csv"));
        InvalidInputException refusal = Assert.Throws<InvalidInputException>(() => BodyTableFiles.ReadFolder(folder.Root));
        Assert.Contains("child_proportions.csv: There is no such file", refusal.Message, StringComparison.Ordinal);
    }
}
