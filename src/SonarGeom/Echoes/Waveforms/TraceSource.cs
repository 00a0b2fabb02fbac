using System.Collections.Immutable;
using System.Numerics;
using System.Runtime.Intrinsics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Waveforms;

/// <summary>Something that can add to what a receiver hears.</summary>
/// <param name="Label">What it is called in traces and strips.</param>
public abstract record TraceSource(string Label)
{
    /// <summary>Gets what can stand in the way; null when nothing can.</summary>
    public IRayScene? Occluders { get; init; }

    /// <summary>Gets foliage that weakens it where it stands in the way.</summary>
    public ImmutableArray<FoliagePart> Leaves { get; init; } = [];

    /// <summary>Computes what it adds for a sensor.</summary>
    internal abstract SourceWave Wave(SensorAtPose sensor);
}

/// <summary>A part of an obstacle, by closed form or by surface integral.</summary>
/// <param name="Label">What it is called.</param>
/// <param name="Part">The part.</param>
/// <param name="Engine">The engine. By closed form the echo is one burst from where the part glints; by surface integral every point
/// of it arrives in its own time.</param>
public sealed record PartSource(string Label, TargetPart Part, EchoEngine Engine = EchoEngine.ClosedForm) : TraceSource(Label)
{
    /// <inheritdoc/>
    internal override SourceWave Wave(SensorAtPose sensor)
    {
        if (Engine == EchoEngine.SurfaceIntegral)
        {
            double nominal = sensor.Transducer.NominalFrequency.Hertz;
            double shortest = sensor.Prepared.Medium.SoundSpeedMetresPerSecond / (nominal * 4.0 / 3.0);
            PartSurface surface = PartSurface.Of(Part, shortest)
                ?? throw new ArgumentException($"Part '{Part.Name}' has no surface to integrate over.", nameof(sensor));
            return SurfaceSource.WaveOf(
                sensor, surface.Surface, Occluders, surface.Ground, surface.Options, LeafVeil.EchoLossDecibels(Leaves, Vec3.Zero, sensor, Part.Middle));
        }

        PartEcho echo = PartEchoes.Evaluate(sensor, Part);
        if (echo.IsSilent)
        {
            return SourceWave.Silent;
        }

        double loss = Occluders is null ? 0.0 : Occlusion.EchoLossDecibels(Occluders, sensor, echo.GlintMetres);
        loss += LeafVeil.EchoLossDecibels(Leaves, Vec3.Zero, sensor, echo.GlintMetres);
        double level = echo.BandLevelDecibels + loss - sensor.Transducer.SourceLevelDecibels - sensor.Prepared.Spectrum.BuildUpDecibels;

        // The phase of the tone, the strength of the band mean.
        LaneComplex tone = PartEchoes.Pressure(new EchoView(sensor, Vec3.Zero, sensor.Prepared.Centre), Part, out _);
        double phase = Math.Atan2(tone.Imaginary[0], tone.Real[0]);
        return new SourceWave
        {
            Burst = Complex.FromPolarCoordinates(Decibels.ToAmplitudeRatio(level), phase),
            RangeMetres = echo.RangeMetres,
        };
    }
}

/// <summary>A mesh, by surface integral.</summary>
/// <param name="Label">What it is called.</param>
/// <param name="Surface">The mesh.</param>
/// <param name="Ground">Ground that mirrors sound; null when there is none.</param>
public sealed record SurfaceSource(string Label, FacetSurface Surface, GroundMirror? Ground = null) : TraceSource(Label)
{
    /// <inheritdoc/>
    internal override SourceWave Wave(SensorAtPose sensor) =>
        WaveOf(sensor, Surface, Occluders, Ground, SurfaceIntegralOptions.Default, 0);

    internal static SourceWave WaveOf(
        SensorAtPose sensor, FacetSurface surface, IRayScene? occluders, GroundMirror? ground, SurfaceIntegralOptions options, double lossDecibels)
    {
        BurstDrive drive = BurstDrive.Of(sensor.Transducer);
        double speed = sensor.Prepared.Medium.SoundSpeedMetresPerSecond;

        // A first look at one frequency finds the span of paths.
        options = options with { FarthestPathMetres = SensorBands.FarthestPathMetres(sensor) };
        double nominal = sensor.Transducer.NominalFrequency.Hertz;
        FrequencyBand single = FrequencyBand.Single(nominal);
        EchoSpectrum look = SurfaceIntegral.Evaluate(
            surface, SensorBands.FacetSensor(sensor, single), single, occluders, ground, options with { SubdivisionRatio = 64.0, WithEdgeCorrection = false });
        if (look.FacetsSummed == 0)
        {
            return SourceWave.Silent;
        }

        FrequencyBand band = drive.BandFor(speed, look.FarthestPathMetres - look.NearestPathMetres + 0.02);
        EchoSpectrum echo = SurfaceIntegral.Evaluate(surface, SensorBands.FacetSensor(sensor, band), band, occluders, ground, options);
        return new SourceWave
        {
            Envelope = EchoEnvelope.Of(echo.Weakened(lossDecibels), drive, speed),
            RangeMetres = 0.5 * echo.NearestPathMetres,
            Withheld = echo.Withheld,
        };
    }
}

/// <summary>Level ground: its mirror image and the backscatter of its roughness.</summary>
/// <param name="Label">What it is called.</param>
/// <param name="Ground">The surface.</param>
/// <param name="HeightMetres">Its height in the world. [m]</param>
/// <param name="MirrorFreeFraction">Share of the way straight down that nothing stands in, 0 to 1. [unitless]</param>
public sealed record FloorSource(string Label, Ground Ground, double HeightMetres = 0.0, double MirrorFreeFraction = 1.0) : TraceSource(Label)
{
    /// <inheritdoc/>
    internal override SourceWave Wave(SensorAtPose sensor)
    {
        GroundEcho echo = GroundEcho.Of(sensor, Ground, HeightMetres, MirrorFreeFraction);
        double sent = sensor.Transducer.SourceLevelDecibels + sensor.Prepared.Spectrum.BuildUpDecibels;
        return new SourceWave
        {
            Burst = echo.Mirror.IsSilent ? Complex.Zero : Decibels.ToAmplitudeRatio(echo.Mirror.BandLevelDecibels - sent),
            RangeMetres = echo.Mirror.IsSilent && !echo.Rough.IsEmpty ? echo.Rough[0].RangeMetres : echo.Mirror.RangeMetres,
            Rings = echo.Rough,
        };
    }
}

/// <summary>What a source adds: an envelope, or one burst from a range, and power from rings of rough ground.</summary>
internal sealed class SourceWave
{
    internal static SourceWave Silent { get; } = new();

    internal EchoEnvelope? Envelope { get; init; }

    /// <summary>Gets the pressure of a continuous tone, per unit pressure at 1 m, of a single burst.</summary>
    internal Complex Burst { get; init; }

    internal double RangeMetres { get; init; }

    internal ImmutableArray<GroundRing> Rings { get; init; } = [];

    internal ImmutableArray<string> Withheld { get; init; } = [];

    /// <summary>The complex envelope at a time, per unit pressure at 1 m.</summary>
    internal Complex At(double seconds, BurstDrive drive, double speed) =>
        (Envelope?.At(seconds) ?? Complex.Zero) + (Burst * drive.Envelope(seconds - (2.0 * RangeMetres / speed)));

    /// <summary>Level of the rough ground at a range; −300 outside its rings. [dB re 20 µPa]</summary>
    internal double RingDecibels(double rangeMetres)
    {
        if (Rings.IsEmpty || rangeMetres < Rings[0].RangeMetres || rangeMetres > Rings[^1].RangeMetres)
        {
            return PartEcho.SilentDecibels;
        }

        int low = 0;
        int high = Rings.Length - 1;
        while (high - low > 1)
        {
            int middle = (low + high) / 2;
            (low, high) = Rings[middle].RangeMetres <= rangeMetres ? (middle, high) : (low, middle);
        }

        double span = Rings[high].RangeMetres - Rings[low].RangeMetres;
        double share = span > 0 ? (rangeMetres - Rings[low].RangeMetres) / span : 0.0;
        return Rings[low].LevelDecibels + (share * (Rings[high].LevelDecibels - Rings[low].LevelDecibels));
    }
}
