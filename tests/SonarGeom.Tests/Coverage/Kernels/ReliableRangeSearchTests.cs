using SonarGeom.Coverage.Kernels;

namespace SonarGeom.Tests.Coverage.Kernels;

public class ReliableRangeSearchTests
{
    private const int Phases = 16;
    private const int Distances = 120;
    private const double Share = 0.9;

    [Theory]
    [InlineData(16, 0.9, 15)]
    [InlineData(10, 0.7, 7)]
    [InlineData(10, 1.0, 10)]
    [InlineData(16, 0.001, 1)]
    [InlineData(1, 0.9, 1)]
    public void Required_phases_are_the_least_number_that_is_the_share(int phases, double share, int required) =>
        Assert.Equal(required, ReliableRangeSearch.RequiredOf(phases, share));

    [Theory]
    [InlineData(0, 0.9)]
    [InlineData(16, 0.0)]
    [InlineData(16, 1.0001)]
    [InlineData(16, double.NaN)]
    public void Impossible_settings_are_refused(int phases, double share) =>
        Assert.Throws<ArgumentOutOfRangeException>(() => ReliableRangeSearch.RequiredOf(phases, share));

    [Fact]
    public void Every_search_finds_what_asking_everything_finds()
    {
        var reference = new ReliableRangeSearch(Phases, Share);
        var search = new ReliableRangeSearch(Phases, Share);
        var byRuns = new ReliableRangeSearch(Phases, Share);
        int reliable = 0;
        for (int seed = 0; seed < 4000; seed++)
        {
            var test = new Table(Margins(seed), steepestPerStep: 0.8);
            int hold = seed % 7;
            int expected = reference.FindExhaustively(ref test, hold, Distances);
            Assert.True(expected == search.Find(ref test, hold, Distances), $"seed {seed}");
            Assert.True(expected == byRuns.FindByRuns(ref test, hold, Distances), $"seed {seed}, by runs");
            reliable += expected >= 0 ? 1 : 0;
        }

        // The cases are of both sorts, and the searches ask far less.
        Assert.InRange(reliable, 1000, 3000);
        Assert.True(search.Evaluations * 2 < reference.Evaluations, $"{search.Evaluations} against {reference.Evaluations}");
        Assert.True(byRuns.Evaluations * 4 < search.Evaluations, $"{byRuns.Evaluations} against {search.Evaluations}");
    }

    [Fact]
    public void Answers_without_any_pattern_are_searched_rightly()
    {
        for (int seed = 0; seed < 2000; seed++)
        {
            var random = new Random(seed);
            double shareOfReports = random.NextDouble();
            var margins = new double[Phases, 30];
            for (int p = 0; p < Phases; p++)
            {
                for (int d = 0; d < 30; d++)
                {
                    margins[p, d] = random.NextDouble() < Math.Sqrt(Math.Sqrt(shareOfReports)) ? 1 : -1;
                }
            }

            var test = new Table(margins, steepestPerStep: 1e9);
            var search = new ReliableRangeSearch(Phases, 0.6);
            int expected = search.FindExhaustively(ref test, 0, 30);
            Assert.True(expected == search.Find(ref test, 0, 30), $"seed {seed}");
            Assert.True(expected == search.FindByRuns(ref test, 0, 30), $"seed {seed}, by runs");
        }
    }

    [Fact]
    public void A_range_costs_no_more_than_its_proof_and_one_pass_over_the_phases()
    {
        // Reported in 15 of 16 phases out to distance 40; the failing phase is a different one in each search.
        for (int failing = 0; failing < Phases; failing++)
        {
            var margins = new double[Phases, Distances];
            for (int p = 0; p < Phases; p++)
            {
                for (int d = 0; d < Distances; d++)
                {
                    margins[p, d] = p != failing && d <= 40 ? 1 : -1;
                }
            }

            var test = new Table(margins, steepestPerStep: 1e9);
            var search = new ReliableRangeSearch(Phases, Share);
            search.Find(ref test, 0, Distances);
            search.Find(ref test, 0, Distances);
            long before = search.Evaluations;
            Assert.Equal(40, search.Find(ref test, 0, Distances));
            long asked = search.Evaluations - before;

            // 41 distances need 15 reports each, the 42nd needs 2 failures: nothing that settles them can ask less than 617.
            Assert.InRange(asked, 617, 617 + 2);
        }
    }

    [Fact]
    public void Cells_that_fail_like_their_neighbours_cost_only_the_failures_that_settle_them()
    {
        var margins = new double[Phases, Distances];
        margins[3, 0] = margins[11, 0] = -1;
        var test = new Table(margins, steepestPerStep: 1e9);
        var search = new ReliableRangeSearch(Phases, Share);
        Assert.Equal(-1, search.Find(ref test, 0, Distances));
        long before = search.Evaluations;
        Assert.Equal(-1, search.Find(ref test, 0, Distances));
        Assert.Equal(2, search.Evaluations - before);
    }

    [Fact]
    public void A_hold_distance_beyond_the_last_one_finds_nothing()
    {
        var test = new Table(new double[Phases, 4], steepestPerStep: 1);
        var search = new ReliableRangeSearch(Phases, Share);
        Assert.Equal(-1, search.Find(ref test, 4, 4));
        Assert.Equal(-1, search.FindByRuns(ref test, 4, 4));
        Assert.Equal(3, search.Find(ref test, 3, 4));
    }

    [Theory]
    [InlineData(10.0, 1.0, 100, 10)]
    [InlineData(10.0, 1.0, 4, 4)]
    [InlineData(0.0, 1.0, 100, 1)]
    [InlineData(0.0, 0.0, 100, 100)]
    [InlineData(-10.0, 4.0, 100, -2)]
    [InlineData(-0.1, 4.0, 100, -1)]
    public void Runs_follow_from_the_margin_and_its_steepest_slope(double margin, double slope, int longest, int run) =>
        Assert.Equal(run, ReliableRangeSearch.RunOf(margin, slope, longest));

    /// <summary>Margins that fall with distance, differ between phases and wobble, with slopes of at most 0.8 dB a step.</summary>
    private static double[,] Margins(int seed)
    {
        var random = new Random(seed);
        double level = (random.NextDouble() * 30) - 4;
        double fall = random.NextDouble() * 0.4;
        double wobble = random.NextDouble() * 4;
        var margins = new double[Phases, Distances];
        for (int p = 0; p < Phases; p++)
        {
            double offset = 3 * Math.Sin(2 * Math.PI * p / Phases);
            double start = random.NextDouble() * 7;
            for (int d = 0; d < Distances; d++)
            {
                margins[p, d] = level + offset - (fall * d) + (wobble * Math.Sin((0.1 * d) + start));
            }
        }

        return margins;
    }

    private readonly struct Table(double[,] margins, double steepestPerStep) : IReportTest, IReportRunTest
    {
        public bool IsReported(int phase, int distanceIndex) => margins[phase, distanceIndex] >= 0;

        public int ReportedRun(int phase, int distanceIndex) =>
            ReliableRangeSearch.RunOf(margins[phase, distanceIndex], steepestPerStep, int.MaxValue);
    }
}
