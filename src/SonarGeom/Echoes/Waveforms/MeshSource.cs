using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes.Waveforms;

/// <summary>An obstacle given by a mesh: every facet arrives in its own time, and it hides itself.</summary>
/// <param name="Label">What it is called.</param>
/// <param name="Part">The mesh.</param>
public sealed record MeshSource(string Label, MeshPart Part) : TraceSource(Label)
{
    /// <inheritdoc/>
    internal override SourceWave Wave(SensorAtPose sensor)
    {
        RigidTransform meshFromWorld = Part.WorldFromMesh.Inverse;
        var local = new SensorAtPose(sensor.Prepared, meshFromWorld * sensor.WorldFromSensor);
        double farthest = SensorBands.FarthestPathMetres(sensor);
        if (MeshEcho.IsOutOfSight(local, Part.Shape.Bounds, farthest, out double nearest, out double span))
        {
            return SourceWave.Silent;
        }

        BurstDrive drive = BurstDrive.Of(sensor.Transducer);
        double speed = sensor.Prepared.Medium.SoundSpeedMetresPerSecond;
        span = Math.Min(span, MeshEcho.WindowMetres);
        IRayScene? others = Occluders is null ? null : new PlacedScene(Occluders, Part.WorldFromMesh);
        EchoSpectrum echo = MeshEcho.Spectrum(
            MeshSurfaces.Of(Part.Shape, Part.RoughnessRmsMetres), local, drive.BandFor(speed, span + 0.02),
            MeshEcho.GroundOf(Part, Part.WorldFromMesh), nearest + span, others);
        double highest = SensorBands.Burst(sensor).HighestHertz;
        return echo.FacetsSummed == 0
            ? SourceWave.Silent
            : new SourceWave
            {
                Envelope = EchoEnvelope.Of(echo.Weakened(LeafVeil.EchoLossDecibels(Leaves, Vec3.Zero, sensor, Part.Middle)), drive, speed),
                RangeMetres = 0.5 * echo.NearestPathMetres,
                Withheld = MeshSurfaces.WithheldFor(Part.Shape, highest, speed / highest),
            };
    }
}
