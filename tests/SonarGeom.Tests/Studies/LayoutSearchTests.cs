using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Studies;
using SonarGeom.Tests.Bodies;
using SonarGeom.Tests.Echoes;
using SonarGeom.Transducers;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Studies;

public class LayoutSearchTests
{
    private static readonly WalkSettings Walk = new(StridePhases: 8);
    private static readonly Transducer Part = EchoBench.WithFigureOfMerit(new CircularPiston(0.0065), 48);
    private static readonly Probe Sphere = Probe.Defaults.First(probe => probe.Shape == ProbeShape.Sphere);
    private static readonly Lazy<PosedLayout> Man = new(() => Posed());
    private static readonly Lazy<LayoutSearch> Search = new(() => new LayoutSearch(Man.Value, Candidates(), Sphere, Walk));

    [Fact]
    public void The_best_single_sensor_and_pair_are_those_of_trying_everything()
    {
        LayoutSearch search = Search.Value;
        int n = search.Candidates.Length;
        double single = Enumerable.Range(0, n).Max(i => search.ScreenedFraction([i]));
        double pair = (from i in Enumerable.Range(0, n)
                       from j in Enumerable.Range(i + 1, n - i - 1)
                       where search.Candidates[i].Mount.Site != search.Candidates[j].Mount.Site
                       select search.ScreenedFraction([i, j])).Max();
        Assert.InRange(single, 0.05, 0.9);
        Assert.Equal(single, search.Best(1)[0].ScreenedFraction);
        Assert.Equal(pair, search.Best(2)[0].ScreenedFraction);
        Assert.True(pair > single);
    }

    [Fact]
    public void Layouts_come_best_first_with_one_sensor_at_a_site_and_more_sensors_cover_no_less()
    {
        double before = 0;
        for (int sensors = 1; sensors <= 3; sensors++)
        {
            ImmutableArray<SearchedLayout> best = Search.Value.Best(sensors, 3);
            Assert.NotEmpty(best);
            Assert.True(best[0].ScreenedFraction >= before);
            before = best[0].ScreenedFraction;
            for (int i = 0; i < best.Length; i++)
            {
                Assert.Equal(sensors, best[i].Sensors.Select(sensor => sensor.Mount.Site).Distinct().Count());
                Assert.True(i == 0 || best[i].ScreenedFraction <= best[i - 1].ScreenedFraction);
            }
        }
    }

    /// <summary>The whole engine says the same of the layout found within a tenth of the silhouette: it steps distances by 0.05 m and
    /// takes the foremost point within the probe's width, where screening takes that of the cell alone.</summary>
    [Fact]
    public void The_approach_map_of_the_layout_found_agrees_with_its_screening()
    {
        SearchedLayout found = Search.Value.Best(2)[0];
        PosedLayout posed = Man.Value.WithLayout(Man.Value.Layout.WithSensors(found.Sensors));
        ApproachMap map = new ApproachMapper(posed, Walk with { Hold = HoldRule.TimeNeeded }, new MapSettings(CellMetres: 0.05)).Map(Sphere);
        int inside = map.InSilhouette.Count(cell => cell);
        int warned = Enumerable.Range(0, map.InSilhouette.Length).Count(i => map.InSilhouette[i] && map.WarningSeconds[i] >= map.TimeNeededSeconds);
        Assert.InRange((double)warned / inside, found.ScreenedFraction - 0.1, found.ScreenedFraction + 0.1);
    }

    [Fact]
    public void Mirrored_candidates_are_screened_alike()
    {
        LayoutSearch search = Search.Value;
        int left = Index("chest left", 10, 15);
        int right = Index("chest right", 10, -15);
        Assert.Equal(search.ScreenedFraction([left]), search.ScreenedFraction([right]), 0.005);

        int Index(string site, double tilt, double azimuth) => search.Candidates.ToList().FindIndex(
            candidate => candidate.Mount.Site == site && candidate.Mount.Tilt.Degrees.Equals(tilt) && Math.Abs(candidate.Mount.Azimuth.Degrees - azimuth) < 1e-9);
    }

    [Fact]
    public void What_cannot_be_screened_or_worn_is_refused()
    {
        Assert.Throws<ArgumentException>(() => new LayoutSearch(Man.Value, Candidates(), Probe.Defaults[0], Walk));
        Assert.Throws<ArgumentException>(() => new LayoutSearch(Man.Value, LayoutSearch.AllOf(Part, ["tail"], [Angle.Zero], [Angle.Zero]), Sphere, Walk));
        Assert.Throws<ArgumentOutOfRangeException>(() => Search.Value.Best(99));
        ImmutableArray<SensorPlacement> some = LayoutSearch.AllOf(Part, ["brow", "tail"], [Angle.Zero], [Angle.Zero]);
        Assert.Single(new LayoutSearch(Man.Value, some, Sphere, Walk).Candidates);
    }

    private static ImmutableArray<SensorPlacement> Candidates() => LayoutSearch.AllOf(
        Part, ["brow", "chest left", "chest right", "belt front"], Degrees(-20, -10, 0, 10, 20), Degrees(-15, 0, 15));

    private static Angle[] Degrees(params double[] degrees) => [.. degrees.Select(Angle.FromDegrees)];

    private static PosedLayout Posed()
    {
        var layout = new SensorLayout(
            "one", "for tests", [LayoutSearch.AllOf(Part, ["brow"], [Angle.Zero], [Angle.Zero])[0]], new FiringPlan(0.1, 2, 3, 0.05));
        return PosedLayout.Prepare(
            Wearers.MedianMan, SwayEnvelope.Of(Wearers.MedianMan, Walk.SpeedMetresPerSecond), layout, EchoBench.Medium, Ground.SmoothTile, Walk.StridePhases);
    }
}
