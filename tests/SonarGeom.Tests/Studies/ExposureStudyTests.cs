using SonarGeom.Air;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Quantities;
using SonarGeom.Studies;
using SonarGeom.Tests.Coverage;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Studies;

public class ExposureStudyTests
{
    private static readonly Lazy<ExposureReport> Standard = new(() => ExposureStudy.Of(CoverageBench.OnMan));

    // A loss-free continuous 115 dB at 0.30 m gives 104.5 dB at 1 m; the public's 100 dB is met beyond about 1.5 m
    // (worked example of common data-sheet figures; 20 °C, 50 %).
    [Fact]
    public void A_strong_part_meets_the_public_limit_beyond_a_metre_and_a_half()
    {
        double alpha = AirAbsorption.DecibelsPerMetre(AirState.Standard, Frequency.FromKilohertz(40));
        Transducer strong = CoverageBench.WidePair with { SourceLevelDecibels = Transducer.SourceLevelFrom(115, 0.30, alpha), BurstCycles = 1000 };
        ExposureReach reach = Reach(strong with { ListeningWindowSeconds = 0.2 });
        Assert.Equal(104.5 - (alpha * 0.7), reach.LevelAtOneMetreDecibels, 0.1);
        LimitDistance publicLimit = reach.Limits.First(l => l.Limit.Audience == ExposureAudience.GeneralPublic);
        Assert.Equal(100, publicLimit.Limit.LevelDecibels);
        Assert.InRange(publicLimit.DistanceMetres, 1.4, 1.6);

        // Mean thresholds of four dogs: 41 dB at 40 kHz (Heffner 1983, seen second-hand); where the burst has fallen to it.
        double hears = reach.DogHearsToMetres!.Value;
        Assert.Equal(41, new SoundExposure(strong, AirState.Standard).BurstLevelDecibels(hears, Vec3.UnitX), 1e-6);
    }

    // Each limit of the list against 105 dB at 40 kHz: AGNIR and INIRC 100 (public), INIRC, the review and the Canadian code 110, ACGIH 115.
    [Fact]
    public void All_published_limits_of_the_band_are_told()
    {
        Assert.Equal([100, 100, 110, 110, 110, 115], ExposureLimit.For(Frequency.FromKilohertz(40)).Select(l => l.LevelDecibels).Order());
        Assert.Equal([70, 70, 75, 75, 75, 105], ExposureLimit.For(Frequency.FromKilohertz(20)).Select(l => l.LevelDecibels).Order());
        Assert.Equal([100, 100, 110, 110, 110, 110], ExposureLimit.For(Frequency.FromKilohertz(25)).Select(l => l.LevelDecibels).Order());
    }

    [Fact]
    public void The_level_at_an_ear_is_that_of_the_beam_at_its_place()
    {
        ExposureReading left = Standard.Value.Readings[0];
        PosedLayout posed = CoverageBench.OnMan;
        double loudest = double.NegativeInfinity;
        for (int p = 0; p < posed.PhaseCount; p++)
        {
            SensorAtPose brow = posed.Sensor(0, p);
            Vec3 ear = posed.Poses[p].LandmarkMetres("tragion left"), towards = ear - brow.TransmitterMetres;
            double level = new SoundExposure(brow.Transducer, posed.Medium.Air).BurstLevelDecibels(towards.Length, Vec3.UnitX);
            double beam = 20 * Math.Log10(Math.Max(1e-9, Math.Abs(brow.TransmitAmplitude(ear))));
            loudest = Math.Max(loudest, level + Math.Max(-30, beam));
        }

        Assert.Equal("brow", left.LoudestSensor);
        Assert.Equal(loudest, left.BurstLevelDecibels, 1e-9);
        Assert.True(left.MeanLevelDecibels < left.BurstLevelDecibels - 20);
    }

    // In front of a chest sensor at 1 m the level is that of the boresight but for the slant to the ear's height.
    [Fact]
    public void People_nearby_are_judged_on_the_worst_side()
    {
        double boresight = new SoundExposure(CoverageBench.WidePair, AirState.Standard).BurstLevelDecibels(1, Vec3.UnitX);
        ExposureReading bystander = Standard.Value.Readings.First(r => r.Kind == ListenerKind.Bystander && r.Where.StartsWith("1.0", StringComparison.Ordinal));
        Assert.InRange(bystander.BurstLevelDecibels, boresight - 0.5, boresight + 1e-9);
        ExposureReading near = Standard.Value.Readings.First(r => r.Kind == ListenerKind.Bystander && r.Where.StartsWith("0.3", StringComparison.Ordinal));
        Assert.True(near.BurstLevelDecibels > bystander.BurstLevelDecibels + 9);
        Assert.Equal(LimitStanding.Above, near.StandingOf(near.Limits.First(l => l.Audience == ExposureAudience.GeneralPublic)));
        Assert.StartsWith("Above a limit for the general public: bystander (0.3 m", Standard.Value.Finding, StringComparison.Ordinal);
    }

    [Fact]
    public void Standings_respect_the_uncertainty()
    {
        ExposureReading reading = Standard.Value.Readings[0] with { BurstLevelDecibels = 97, UncertaintyDecibels = 4 };
        ExposureLimit Limit(double level) => new("for tests", ExposureAudience.GeneralPublic, 25, 100, level, "made up");
        Assert.Equal(LimitStanding.Uncertain, reading.StandingOf(Limit(100)));
        Assert.Equal(LimitStanding.Uncertain, reading.StandingOf(Limit(94)));
        Assert.Equal(LimitStanding.Below, reading.StandingOf(Limit(101.1)));
        Assert.Equal(LimitStanding.Above, reading.StandingOf(Limit(92.9)));
    }

    // Two sensors at the same moment may add as amplitudes: at most 6 dB, and the mean does not change.
    [Fact]
    public void Sensors_that_fire_together_add()
    {
        SensorLayout layout = CoverageBench.Standard;
        ExposureReport together = ExposureStudy.Of(CoverageBench.OnMan.WithLayout(new SensorLayout(
            "together", string.Empty, layout.Sensors, new FiringPlan(0.24, 2, 3, 0.05) { Groups = [["brow"], ["chest-left", "chest-right"], ["belt"]] })));
        for (int i = 0; i < together.Readings.Length; i++)
        {
            ExposureReading apart = Standard.Value.Readings[i];
            Assert.InRange(together.Readings[i].BurstLevelDecibels - apart.BurstLevelDecibels, 0, 6.03);
            Assert.Equal(apart.MeanLevelDecibels, together.Readings[i].MeanLevelDecibels, 1e-9);
        }

        Assert.Contains(together.Readings, r => r.Kind == ListenerKind.Bystander && r.BurstLevelDecibels > Standard.Value.Readings.First(s => s.Where == r.Where).BurstLevelDecibels + 5);
    }

    [Fact]
    public void A_mirrored_layout_is_as_loud_on_the_other_side()
    {
        ExposureReport mirrored = ExposureStudy.Of(CoverageBench.Pose(CoverageBench.Mirrored(CoverageBench.Standard)));
        Assert.Equal(Standard.Value.Readings[0].BurstLevelDecibels, mirrored.Readings[1].BurstLevelDecibels, 1e-6);
        Assert.Equal(Standard.Value.Readings[^2].BurstLevelDecibels, mirrored.Readings[^1].BurstLevelDecibels, 1e-6);
        Assert.All(Standard.Value.Readings.Where(r => r.Kind == ListenerKind.Dog), r => Assert.Equal(41, r.HearingThresholdDecibels));
        Assert.All(Standard.Value.Readings.Where(r => r.Kind != ListenerKind.Dog), r => Assert.Null(r.HearingThresholdDecibels));
    }

    private static ExposureReach Reach(Transducer part)
    {
        SensorLayout layout = new("one", string.Empty, [CoverageBench.Sensor("brow", "brow", 0, 0, transducer: part)], new FiringPlan(0.24, 2, 3, 0.05));
        return Assert.Single(ExposureStudy.Of(CoverageBench.OnMan.WithLayout(layout)).Reaches);
    }
}
