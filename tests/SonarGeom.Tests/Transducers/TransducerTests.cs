using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Transducers;

public class TransducerTests
{
    internal static Transducer Pair(double thresholdDecibels = 63) => new(
        "Test pair",
        "Two cans for tests.",
        Frequency.FromKilohertz(40),
        new CircularPiston(0.0065),
        new CircularPiston(0.0065),
        new Vec3(0, 0.013, 0),
        new Vec3(0, -0.013, 0),
        100,
        ThresholdProfile.Constant(thresholdDecibels),
        20,
        8,
        25,
        25,
        0.0009,
        0.025,
        new TransducerEvidence("wall at 4 m", "for tests", 3, "for tests"));

    [Fact]
    public void Figure_of_merit_is_source_and_build_up_over_the_higher_of_threshold_and_noise()
    {
        Transducer pair = Pair();
        Assert.Equal(100 + pair.BuildUpDecibels - 63, pair.LateFigureOfMeritDecibels, 1e-12);
        Transducer noisy = pair with { NoiseLevelDecibels = 70 };
        Assert.Equal(pair.LateFigureOfMeritDecibels - 7, noisy.LateFigureOfMeritDecibels, 1e-12);
        Assert.Equal(70, noisy.DetectionThresholdDecibels(0.01));
    }

    [Fact]
    public void Threshold_falls_in_straight_lines_between_its_points()
    {
        var profile = new ThresholdProfile([new(0.002, 80), new(0.004, 60), new(0.010, 57)]);
        Assert.Equal(80, profile.LevelDecibels(0));
        Assert.Equal(80, profile.LevelDecibels(0.002));
        Assert.Equal(70, profile.LevelDecibels(0.003), 1e-9);
        Assert.Equal(60, profile.LevelDecibels(0.004));
        Assert.Equal(57, profile.LevelDecibels(0.010));
        Assert.Equal(57, profile.LevelDecibels(1));
        Assert.Equal(75, profile.RaisedBy(5).LevelDecibels(0.003), 1e-9);
        Assert.Equal(new ThresholdProfile([new(0.002, 80), new(0.004, 60), new(0.010, 57)]), profile);
        Assert.NotEqual(profile.RaisedBy(1), profile);
    }

    [Fact]
    public void Bad_thresholds_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new ThresholdProfile([]));
        Assert.Throws<ArgumentException>(() => new ThresholdProfile(default));
        Assert.Throws<ArgumentException>(() => new ThresholdProfile([new(0.002, 80), new(0.002, 60)]));
        Assert.Throws<ArgumentException>(() => new ThresholdProfile([new(-0.001, 80)]));
        Assert.Throws<ArgumentException>(() => new ThresholdProfile([new(0, double.NaN)]));
        Assert.Throws<ArgumentException>(() => ThresholdProfile.Constant(161));
    }

    [Fact]
    public void Dead_zone_is_the_longer_of_blanking_and_ringing()
    {
        Transducer pair = Pair();
        Assert.Equal(0.5 * 343 * 0.0009, pair.DeadZoneMetres(343), 1e-12);
        Assert.Equal(0.5 * 343 * 0.0012, (pair with { RingDownSeconds = 0.0012 }).DeadZoneMetres(343), 1e-12);
        Assert.Equal(0.5 * 343 * 0.025, pair.WindowRangeMetres(343), 1e-12);
    }

    [Fact]
    public void Ring_down_is_the_burst_and_an_exponential_tail()
    {
        var forty = Frequency.FromKilohertz(40);
        double tail = RingDown.Seconds(8, 30, forty, 60) - RingDown.Seconds(8, 30, forty, 0);
        Assert.Equal(0.0002, RingDown.Seconds(8, 30, forty, 0), 1e-12);
        Assert.Equal(0.0002, RingDown.Seconds(8, 30, forty, -20), 1e-12);
        Assert.Equal(30 / (Math.PI * 40e3) * Math.Log(1000), tail, 1e-12);
    }

    [Fact]
    public void Two_cans_are_bistatic_and_one_is_not()
    {
        Assert.True(Pair().IsBistatic);
        Assert.Equal(0.026, Pair().SeparationMetres, 1e-12);
        Assert.False((Pair() with { TransmitterOffsetMetres = new(0, -0.013, 0) }).IsBistatic);
    }

    // Data sheets state levels at 0.30 m: 10.46 dB above the level at 1 m, and a little absorption.
    [Fact]
    public void Source_level_comes_from_a_data_sheet_level() =>
        Assert.Equal(115 - 10.4576 + (0.3 * 1.32), Transducer.SourceLevelFrom(115, Transducer.DataSheetRangeMetres, 1.32), 1e-4);

    [Fact]
    public void Figures_outside_their_range_are_refused_also_in_copies()
    {
        Transducer pair = Pair();
        Assert.Throws<ArgumentOutOfRangeException>(() => pair with { SourceLevelDecibels = 181 });
        Assert.Throws<ArgumentOutOfRangeException>(() => pair with { NoiseLevelDecibels = double.NaN });
        Assert.Throws<ArgumentOutOfRangeException>(() => pair with { BurstCycles = 0 });
        Assert.Throws<ArgumentOutOfRangeException>(() => pair with { TransmitterQ = 0 });
        Assert.Throws<ArgumentOutOfRangeException>(() => pair with { BlankingSeconds = -1e-6 });
        Assert.Throws<ArgumentOutOfRangeException>(() => pair with { ReceiverOffsetMetres = new(0, 2, 0) });
        Assert.Throws<ArgumentOutOfRangeException>(() => pair with { ReceiverOffsetMetres = new(0, double.NaN, 0) });
        Assert.Throws<ArgumentOutOfRangeException>(() => pair with { NominalFrequency = Frequency.FromKilohertz(14.9) });
        Assert.Throws<ArgumentOutOfRangeException>(() => pair with { NominalFrequency = default });
        Assert.Throws<ArgumentException>(() => pair with { Name = " " });
        Assert.Throws<ArgumentNullException>(() => pair with { Transmit = null! });
        Assert.Throws<ArgumentOutOfRangeException>(() => new Transducer(
            "x", "x", pair.NominalFrequency, pair.Transmit, pair.Receive, Vec3.Zero, Vec3.Zero, 100, pair.Threshold, 20, 8, 25, 25, 0.002, 0.002, pair.Evidence));
        Assert.Throws<ArgumentOutOfRangeException>(() => new TransducerEvidence("x", "x", -1, "x"));
    }
}
