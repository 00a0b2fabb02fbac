using SonarGeom.Quantities;
using SonarGeom.Transducers;
using static SonarGeom.Tests.Transducers.DirectivityTests;

namespace SonarGeom.Tests.Transducers;

public class PolarCutTests
{
    [Fact]
    public void The_curve_goes_through_its_points_and_never_overshoots_them()
    {
        PolarCut cut = Cut((0, 0), (10, -0.5), (25, -6), (35, -20), (40, -19), (60, -25), (90, -25));
        for (int i = 0; i + 1 < cut.Points.Length; i++)
        {
            (double from, double to) = (cut.Points[i].OffAxis.Radians, cut.Points[i + 1].OffAxis.Radians);
            double before = cut.Points[i].LevelDecibels;
            double end = cut.Points[i + 1].LevelDecibels;
            Assert.Equal(before, cut.LevelDecibels(from), 1e-12);
            double last = before;
            for (int j = 1; j <= 50; j++)
            {
                double level = cut.LevelDecibels(from + ((to - from) * j / 50));
                Assert.InRange(level, Math.Min(before, end) - 1e-9, Math.Max(before, end) + 1e-9);
                Assert.True((level - last) * (end - before) >= -1e-9, "the curve turns between two points");
                last = level;
            }
        }
    }

    [Fact]
    public void The_curve_is_continuous_and_flat_on_the_boresight()
    {
        PolarCut cut = OpenType();
        double last = cut.LevelDecibels(0);
        for (int i = 1; i <= 18_000; i++)
        {
            double level = cut.LevelDecibels(i * Math.PI / 2 / 18_000);
            Assert.True(Math.Abs(level - last) < 0.01, $"step at {i}");
            last = level;
        }

        Assert.Equal(0, cut.LevelDecibels(1e-6), 1e-9);
    }

    [Fact]
    public void Beyond_the_last_point_the_level_goes_on_falling_and_never_rises()
    {
        Assert.Equal(-16, OpenType().LevelDecibels(Math.PI / 2), 1e-9);
        Assert.Contains("beyond 80°", new PolarTable(OpenType()).Description, StringComparison.Ordinal);
        PolarCut rising = Cut((0, 0), (20, -15), (30, -12));
        Assert.Equal(-12, rising.LevelDecibels(Math.PI / 3), 1e-9);
    }

    [Fact]
    public void A_two_sided_table_is_folded_and_says_how_uneven_it_was()
    {
        PolarCut cut = Cut((-40, -9), (-20, -2), (0, 0), (20, -3), (40, -10));
        Assert.Equal(1, cut.AsymmetryDecibels, 1e-9);
        Assert.Equal(-2.5, cut.LevelDecibels(Math.PI / 9), 1e-9);
        Assert.Equal(-9.5, cut.LevelDecibels(2 * Math.PI / 9), 1e-9);
    }

    [Fact]
    public void Between_two_planes_the_level_lies_between_them()
    {
        var table = new PolarTable(Cut((0, 0), (30, -3), (90, -20)), Cut((0, 0), (30, -9), (90, -40)));
        double sine = Math.Sin(Math.PI / 6);
        double cosine = Math.Cos(Math.PI / 6);
        double diagonal = table.Amplitude(new(cosine, sine * Math.Sqrt(0.5), sine * Math.Sqrt(0.5)), 700);
        Assert.Equal(-3, Decibels.FromAmplitudeRatio(table.AmplitudeAt(Angle.FromDegrees(30), 700)), 1e-9);
        Assert.Equal(-9, Decibels.FromAmplitudeRatio(table.AmplitudeAt(Angle.FromDegrees(30), 700, verticalPlane: true)), 1e-9);
        Assert.Equal(-6, Decibels.FromAmplitudeRatio(diagonal), 1e-9);
    }

    [Fact]
    public void Bad_tables_are_refused_with_the_point_that_is_bad()
    {
        Refused("at least 3 points", (0, 0), (10, -1));
        Refused("point 3", (0, 0), (10, -1), (10, -2));
        Refused("point 2", (0, 0), (10, 4), (20, -2));
        Refused("point 2", (0, 0), (10, double.NaN), (20, -2));
        Refused("point 3", (0, 0), (10, -1), (181, -2));
        Refused("0 dB at 0°", (5, 0), (10, -1), (20, -2));
        Refused("0 dB at 0°", (0, -1), (10, -1), (20, -2));
        Refused("missing", (-20, -3), (0, 0), (10, -1), (20, -2));
        Refused("both sides", (-20, -3), (-10, -1), (-5, 0), (0, 0), (10, -1), (20, -2));

        static void Refused(string reason, params (double Degrees, double Level)[] points) =>
            Assert.Contains(reason, Assert.Throws<ArgumentException>(() => Cut(points)).Message, StringComparison.Ordinal);
    }
}
