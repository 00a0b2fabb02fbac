using System.Collections.Immutable;
using System.Numerics;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Facets;

/// <summary>A way to compute an echo.</summary>
public enum EchoEngine
{
    /// <summary>Closed forms of simple shapes.</summary>
    ClosedForm,

    /// <summary>The Kirchhoff integral over a mesh.</summary>
    SurfaceIntegral,

    /// <summary>Many pings at leaves one by one, their places and attitudes seeded: foliage only.</summary>
    Ensemble,
}

/// <summary>Which engine is asked for.</summary>
public enum EngineRequest
{
    /// <summary>The closed form where it holds, else the surface integral.</summary>
    Suitable,

    /// <summary>The closed form, also where it is less sure.</summary>
    ClosedForm,

    /// <summary>The surface integral, where the part has a surface.</summary>
    SurfaceIntegral,
}

/// <summary>An echo, the engine that computed it and how sure it is.</summary>
/// <param name="Name">The part or surface.</param>
/// <param name="Engine">The engine that was used.</param>
/// <param name="Reason">Why this one.</param>
/// <param name="BandLevelDecibels">Band mean at the peak of the burst; −300 when nothing returns. [dB re 20 µPa]</param>
/// <param name="CentreLevelDecibels">The same at the nominal frequency. [dB re 20 µPa]</param>
/// <param name="RangeMetres">Half the path of the dominant return by closed form, half the shortest path by surface integral. [m]</param>
/// <param name="EstimatedErrorDecibels">Estimated error of the band mean, either way. [dB]</param>
/// <param name="Withheld">Why no verdict may rest on it; empty when one may.</param>
public sealed record EngineEcho(
    string Name,
    EchoEngine Engine,
    string Reason,
    double BandLevelDecibels,
    double CentreLevelDecibels,
    double RangeMetres,
    double EstimatedErrorDecibels,
    ImmutableArray<string> Withheld);

/// <summary>Computes the echo of a part or a mesh by the engine that suits it, or by the one asked for.</summary>
public static class EngineChoice
{
    // Closed forms take transmitter and receiver as one point for the geometry of the return; see the comparison of engines.
    private const double LargestSeparationOverRange = 1.0 / 20.0;

    // What the closed forms differ from the surface integral over the sweep of the comparison, rounded up: flats with a steep beam
    // at their edge; corners, for single and triple bounce as well; all others.
    private const double FlatErrorDecibels = 0.5;
    private const double CornerErrorDecibels = 0.35;
    private const double OtherErrorDecibels = 0.3;

    // The level that nine pings in ten exceed, told up to that much too low; see the comparison with seeded leaves.
    private const double FoliageErrorDecibels = 4.0;

    // An edge is some 39 dB below a wall, a pole of 10 mm at 2 m some 26 dB.
    private const double MirrorlessDecibels = 30.0;

    // The false echo of the edge of the lit side, 1/(2ka), and creeping waves of the same order.
    private const double KirchhoffErrorPerKa = 1.0;

    /// <summary>Returns the echo of a part.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The part.</param>
    /// <param name="request">Which engine to use.</param>
    /// <param name="occluders">What can stand in the way in the surface integral; null when nothing can. The closed form is that of
    /// open air: occlusion is counted apart.</param>
    /// <returns>For a mesh the level as maps and verdicts take it, of the strongest arrival; it hides itself.</returns>
    /// <exception cref="ArgumentException">The surface integral is asked for and the part has no surface, or the closed form of a mesh.</exception>
    public static EngineEcho Evaluate(
        SensorAtPose sensor, TargetPart part, EngineRequest request = EngineRequest.Suitable, IRayScene? occluders = null)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        ArgumentNullException.ThrowIfNull(part);
        if (part is MeshPart mesh)
        {
            return request == EngineRequest.ClosedForm
                ? throw new ArgumentException($"Mesh '{part.Name}' has no closed form.", nameof(part))
                : ByMesh(sensor, mesh);
        }

        if (part is FoliagePart leaves)
        {
            return request == EngineRequest.SurfaceIntegral ? ByEnsemble(sensor, leaves) : ByClosedForm(sensor, part, "leaves, by their mean power and its swing");
        }

        if (request == EngineRequest.ClosedForm)
        {
            return ByClosedForm(sensor, part, "asked for");
        }

        FrequencyBand band = SensorBands.Burst(sensor);
        PartSurface? surface = PartSurface.Of(part, sensor.Prepared.Medium.SoundSpeedMetresPerSecond / band.HighestHertz);
        if (request == EngineRequest.SurfaceIntegral)
        {
            return surface is null
                ? throw new ArgumentException($"Part '{part.Name}' has no surface to integrate over.", nameof(part))
                : BySurface(sensor, band, surface, occluders, "asked for") with { EstimatedErrorDecibels = RoundError(sensor, part) };
        }

        EngineEcho closed = ByClosedForm(sensor, part, "a simple shape");
        double separation = sensor.TransmitterMetres.DistanceTo(sensor.ReceiverMetres);
        return surface is not null && closed.RangeMetres > 0 && separation > LargestSeparationOverRange * closed.RangeMetres
            ? BySurface(sensor, band, surface, occluders, "transmitter and receiver stand apart by more than a twentieth of the range")
            : closed;
    }

    /// <summary>Returns the echo of a mesh: always the surface integral.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="surface">The mesh.</param>
    /// <param name="occluders">What can stand in the way, the mesh included; null when nothing can.</param>
    /// <param name="ground">Ground that mirrors sound; null when there is none.</param>
    /// <param name="options">How to carry out the integral; null for the usual way.</param>
    public static EngineEcho EvaluateMesh(
        SensorAtPose sensor, FacetSurface surface, IRayScene? occluders = null, GroundMirror? ground = null, SurfaceIntegralOptions? options = null)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        return BySurface(
            sensor,
            SensorBands.Burst(sensor),
            new PartSurface(surface, ground, options ?? SurfaceIntegralOptions.Default with { FarthestPathMetres = SensorBands.FarthestPathMetres(sensor) }),
            occluders,
            "a mesh",
            isEdgeFree: options is not null);
    }

    /// <summary>Returns the engine that maps and verdicts take for a part.</summary>
    /// <param name="part">The part.</param>
    public static EchoEngine EngineOf(TargetPart part) => part is MeshPart ? EchoEngine.SurfaceIntegral : EchoEngine.ClosedForm;

    /// <summary>Returns what the level of a part may be off by that engine, either way, where no case was looked at more closely. [dB]</summary>
    /// <param name="part">The part.</param>
    public static double UsualErrorDecibels(TargetPart part) => part switch
    {
        MeshPart => MeshEcho.EstimatedErrorDecibels,
        FoliagePart => FoliageErrorDecibels,
        PolygonPart or DiscPart => FlatErrorDecibels,
        CornerPart or PoleFootPart => CornerErrorDecibels,
        _ => OtherErrorDecibels,
    };

    /// <summary>Returns why nothing may rest on the echo of a part; empty when it may.</summary>
    /// <param name="prepared">The transducer in the air.</param>
    /// <param name="part">The part: only a mesh can be too coarse for the wavelength.</param>
    public static ImmutableArray<string> WithheldFor(PreparedTransducer prepared, TargetPart part)
    {
        ArgumentNullException.ThrowIfNull(prepared);
        double highest = prepared.Spectrum.FrequenciesHertz[^1];
        return part is MeshPart mesh ? MeshSurfaces.WithheldFor(mesh.Shape, highest, prepared.Medium.SoundSpeedMetresPerSecond / highest) : [];
    }

    // The error is that between the engines and what a run with facets of a quarter of the size changes.
    private static EngineEcho ByMesh(SensorAtPose sensor, MeshPart mesh)
    {
        PartEcho echo = MeshEcho.Evaluate(sensor, mesh, Vec3.Zero), finer = MeshEcho.Evaluate(sensor, mesh, Vec3.Zero, MeshEcho.FinerRatio);
        return new EngineEcho(
            mesh.Name, EchoEngine.SurfaceIntegral, "a mesh", echo.BandLevelDecibels, echo.CentreLevelDecibels, echo.RangeMetres,
            OtherErrorDecibels + Math.Abs(finer.BandLevelDecibels - echo.BandLevelDecibels),
            WithheldFor(sensor.Prepared, mesh));
    }

    // Leaves have no surface of their own: the other engine sends pings at them.
    private static EngineEcho ByEnsemble(SensorAtPose sensor, FoliagePart leaves) => ByPings(sensor, leaves, FoliageEnsemble.Of(sensor, leaves));

    /// <summary>Returns the echo of foliage by pings at seeded leaves that have been sent.</summary>
    internal static EngineEcho ByPings(SensorAtPose sensor, FoliagePart leaves, FoliageEnsemble pings) => new(
        leaves.Name, EchoEngine.Ensemble, $"{pings.Pings} pings at {pings.Leaves} seeded leaves", pings.NineInTenDecibels, pings.NineInTenDecibels,
        FoliageEcho.Evaluate(sensor, leaves).RangeMetres, 4 * pings.StandardErrorDecibels, []);

    private static EngineEcho ByClosedForm(SensorAtPose sensor, TargetPart part, string reason)
    {
        PartEcho echo = PartEchoes.Evaluate(sensor, part);
        return new EngineEcho(
            part.Name, EchoEngine.ClosedForm, reason, echo.BandLevelDecibels, echo.CentreLevelDecibels, echo.RangeMetres, UsualErrorDecibels(part), []);
    }

    private static EngineEcho BySurface(SensorAtPose sensor, FrequencyBand band, PartSurface part, IRayScene? occluders, string reason, bool isEdgeFree = true)
    {
        // An odd number of frequencies would hold the nominal one; the burst's are symmetric about it, so it is computed by itself.
        FacetSensor facets = SensorBands.FacetSensor(sensor, band);
        EchoSpectrum echo = SurfaceIntegral.EvaluateVerified(part.Surface, facets, band, occluders, part.Ground, part.Options);
        if (!isEdgeFree && IsWithoutMirror(echo))
        {
            // Nothing mirrors: what is left comes from edges, and those of the surface integral are off by their own size.
            part = part with { Options = part.Options with { WithEdgeCorrection = true } };
            reason += ", its edges corrected because nothing mirrors";
            echo = SurfaceIntegral.EvaluateVerified(part.Surface, facets, band, occluders, part.Ground, part.Options);
        }

        EchoSpectrum tone = SurfaceIntegral.Evaluate(
            part.Surface, facets, FrequencyBand.Single(sensor.Transducer.NominalFrequency.Hertz), occluders, part.Ground, part.Options);
        double level = sensor.Transducer.SourceLevelDecibels + sensor.Prepared.Spectrum.BuildUpDecibels;
        double share = echo.EstimatedRelativeError ?? 0.0;
        return new EngineEcho(
            part.Surface.Name,
            EchoEngine.SurfaceIntegral,
            reason,
            Audible(level + echo.BandMeanDecibels(sensor.Prepared.Spectrum.PowerWeights.AsSpan())),
            Audible(level + tone.LevelDecibels(0)),
            0.5 * echo.NearestPathMetres,
            Decibels.FromAmplitudeRatio(1.0 + share) + OtherErrorDecibels,
            echo.Withheld);
    }

    /// <summary>Whether the echo lies far below what even a pole of the size of a wavelength would mirror at that range.</summary>
    private static bool IsWithoutMirror(EchoSpectrum echo) =>
        echo.NearestPathMetres > 0
        && echo.BandMeanDecibels() < Decibels.FromAmplitudeRatio(1.0 / echo.NearestPathMetres) - MirrorlessDecibels;

    private static double RoundError(SensorAtPose sensor, TargetPart part)
    {
        double? radius = part switch
        {
            CylinderPart rod => rod.RadiusMetres,
            SpherePart sphere => sphere.RadiusMetres,
            DomePart dome => dome.RadiusMetres,
            PoleFootPart foot => foot.RadiusMetres,
            RopePart rope => rope.RadiusMetres,
            _ => null,
        };
        double kirchhoff = radius is { } a ? KirchhoffErrorPerKa / (sensor.Prepared.WavenumberRadiansPerMetre * a) : 0.0;
        return Math.Max(OtherErrorDecibels, Decibels.FromAmplitudeRatio(1.0 + kirchhoff));
    }

    private static double Audible(double decibels) => decibels > PartEcho.SilentDecibels ? decibels : PartEcho.SilentDecibels;
}
