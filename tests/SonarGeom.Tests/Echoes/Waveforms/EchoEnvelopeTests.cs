using System.Collections.Immutable;
using System.Numerics;
using SonarGeom.Air;
using SonarGeom.Echoes.Facets;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Tests.Echoes.Facets;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes.Waveforms;

public class EchoEnvelopeTests
{
    private const double Speed = 343.2;
    private static readonly BurstDrive Drive = new(Frequency.FromKilohertz(40), 8, 20, 35);

    /// <summary>An echo of a few points with flat response: each delays and scales.</summary>
    private static EchoSpectrum Points(FrequencyBand band, params (double Path, double Amplitude)[] points) => new(
        band,
        [.. Enumerable.Range(0, band.Count).Select(j => points.Aggregate(
            Complex.Zero, (sum, p) => sum + Complex.FromPolarCoordinates(p.Amplitude, 2 * Math.PI * band.Hertz(j) / Speed * p.Path)))],
        points.Min(p => p.Path),
        points.Max(p => p.Path));

    private static Transducer Device(double threshold) => new(
        "pair", "two cans", Frequency.FromKilohertz(40), EvenBeam.Instance, EvenBeam.Instance, Vec3.Zero, Vec3.Zero, 105,
        ThresholdProfile.Constant(threshold), 0, 8, 20, 35, 0.5e-3, 30e-3, new TransducerEvidence("a wall", "assumed", 3, "none"));

    // Linear systems theory: the envelope that two first-order laws make of a tone is known in closed form. The band leaves out
    // frequencies beyond a third of the nominal one, where the spectrum has fallen by 1/(ωτ)²: below 0.5 % of a continuous tone.
    [Fact]
    public void AnEchoOfPointsIsTheSumOfDelayedBursts()
    {
        (double Path, double Amplitude)[] points = [(2.0, 0.5), (2.03, -0.3), (2.31, 0.2)];
        EchoEnvelope envelope = EchoEnvelope.Of(Points(Drive.BandFor(Speed, 0.31), points), Drive, Speed);
        double worst = 0;
        for (int n = 0; n < 1000; n++)
        {
            double t = (2.0 / Speed) + (n * 4e-6);
            Complex expected = points.Aggregate(Complex.Zero, (sum, p) => sum + Complex.FromPolarCoordinates(
                p.Amplitude * Drive.Envelope(t - (p.Path / Speed)), 2 * Math.PI * 40_000 / Speed * p.Path));
            worst = Math.Max(worst, (envelope.At(t) - expected).Magnitude);
        }

        Assert.True(worst < 0.004, $"worst difference {worst:E2} of a continuous tone");
    }

    [Fact]
    public void TheSpectrumOfTheEnvelopeIsTheEchoTimesTheBurst()
    {
        FrequencyBand band = Drive.BandFor(Speed, 0.31);
        EchoSpectrum echo = Points(band, (2.0, 0.5), (2.03, -0.3), (2.31, 0.2));
        EchoEnvelope envelope = EchoEnvelope.Of(echo, Drive, Speed);
        for (int j = 0; j < band.Count; j += 7)
        {
            Complex sum = Complex.Zero;
            for (int n = 0; n < envelope.Samples.Length; n++)
            {
                double t = envelope.StartSeconds + (n * envelope.StepSeconds);
                sum += envelope.Samples[n] * Complex.FromPolarCoordinates(envelope.StepSeconds, 2 * Math.PI * (band.Hertz(j) - 40_000) * t);
            }

            Complex expected = echo.Pressures[j] * Drive.Spectrum(band.Hertz(j));
            Assert.True((sum - expected).Magnitude < 1e-9 * Drive.ToneSeconds, $"{band.Hertz(j)} Hz: {sum} for {expected}");
        }
    }

    [Fact]
    public void TheSpectrumOfTheBurstIsThatOfItsEnvelope()
    {
        foreach (double hertz in new[] { 40_000.0, 41_000, 37_500, 52_000 })
        {
            const int Steps = 200_000;
            double step = 12e-3 / Steps;
            Complex sum = Complex.Zero;
            for (int n = 0; n < Steps; n++)
            {
                double t = (n + 0.5) * step;
                sum += Complex.FromPolarCoordinates(Drive.Envelope(t) * step, 2 * Math.PI * (hertz - 40_000) * t);
            }

            Assert.True((sum - Drive.Spectrum(hertz)).Magnitude < 1e-5 * Drive.ToneSeconds, $"{hertz} Hz");
        }
    }

    [Fact]
    public void ThePeakOfABurstIsItsBuildUp()
    {
        double peak = Enumerable.Range(0, 20_000).Max(n => Drive.Envelope(n * 1e-7));
        Assert.Equal(BurstBuildUp.TwoStage(8, 20, 35), peak, 1e-6);
    }

    // A wall mesh through the surface integral: its envelope is the burst, delayed by the round trip and halved by the distance.
    [Fact]
    public void TheEnvelopeOfAWallIsTheBurstDelayed()
    {
        var position = new Vec3(0, 0, 0.8);
        FacetSensor sensor = FacetSensor.Omnidirectional(position, Speed) with
        {
            WorldFromSensor = Rotation.AboutY(Angle.FromDegrees(90)),
            Transmit = new GaussianBeam(Angle.FromDegrees(15), -6),
            Receive = new GaussianBeam(Angle.FromDegrees(15), -6),
        };
        EchoSpectrum echo = SurfaceIntegral.Evaluate(FacetSurface.Of("wall", TestShapes.Rectangle(1.2, 1.2)), sensor, Drive.BandFor(Speed, 0.5));
        EchoEnvelope envelope = EchoEnvelope.Of(echo, Drive, Speed);
        double worst = 0;
        for (int n = 0; n < 400; n++)
        {
            double t = (1.6 / Speed) + (n * 5e-6);
            worst = Math.Max(worst, Math.Abs(envelope.At(t).Magnitude - (Drive.Envelope(t - (1.6 / Speed)) / 1.6)));
        }

        // The beam over the first Fresnel zone costs 2 % of the wall here.
        Assert.True(worst < 0.03 * BurstBuildUp.TwoStage(8, 20, 35) / 1.6, $"worst {worst:E2}");
    }

    // The device starts counting with the tone and reports late by the time the envelope needs to reach the threshold.
    [Fact]
    public void TheReportedRangeIsLateByTheRiseOfTheEnvelope()
    {
        EchoSpectrum echo = Points(Drive.BandFor(Speed, 0.1), (3.0, 1.0 / 3.0));
        EchoEnvelope envelope = EchoEnvelope.Of(echo, Drive, Speed);
        double constant = RoundTrip.MicrosecondsPerCentimetre(Speed);
        double level = 105 + Decibels.FromAmplitudeRatio(BurstBuildUp.TwoStage(8, 20, 35) / 3);
        DeviceReading strong = DeviceReading.Of(envelope, Device(level - 20), 1.5, constant);
        DeviceReading weak = DeviceReading.Of(envelope, Device(level - 1), 1.5, constant);
        DeviceReading silent = DeviceReading.Of(envelope, Device(level + 1), 1.5, constant);
        Assert.Equal(level, strong.PeakLevelDecibels, 0.05);
        double tenth = Enumerable.Range(0, 100_000).Select(n => n * 1e-8).First(t => Drive.Envelope(t) > 0.1 * BurstBuildUp.TwoStage(8, 20, 35));
        Assert.Equal(0.5 * Speed * tenth, strong.ErrorMetres!.Value, 0.5e-3);
        Assert.InRange(weak.ErrorMetres!.Value, strong.ErrorMetres.Value + 0.01, 0.06);
        Assert.False(silent.IsDetected);

        // A constant 1 % too short reports 1 % too far.
        DeviceReading biased = DeviceReading.Of(envelope, Device(level - 20), 1.5, 0.99 * constant);
        Assert.Equal(strong.ReportedRangeMetres!.Value / 0.99, biased.ReportedRangeMetres!.Value, 1e-9);
    }
}
