using SonarGeom.Files.Shapes;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Kinds;

/// <summary>How grounds are written.</summary>
internal static class GroundShapes
{
    /// <summary>Gets the shape of a ground: a preset, its figures, or none at all.</summary>
    internal static WordOrObjectShape<Ground?> Ground { get; } = new(
        new ChoiceShape<Ground?>(
        [
            ("smooth_tile", Obstacles.Ground.SmoothTile),
            ("paving", Obstacles.Ground.Paving),
            ("asphalt", Obstacles.Ground.Asphalt),
            ("gravel", Obstacles.Ground.Gravel),
            ("grass", Obstacles.Ground.Grass),
            ("none", null),
        ]),
        new ObjectShape<Ground?>("ground", "A ground by its figures.", m =>
        {
            Member<string> name = m.Optional("name", new TextShape(60), "ground", "The surface in one or two words.");
            Member<double> roughness = m.Required("roughness_mm", new NumberShape(0, 500), "The root-mean-square height of the surface. [mm]");
            Member<double> lambert = m.Required("lambert_db", new NumberShape(-100, -4.97), "Ten times the logarithm of the coefficient of Lambert's law for backscatter. [dB]");
            Member<string> source = m.Optional("source", new TextShape(1000), "not stated", "Where the two figures come from.");
            Member<string> confidence = m.Optional("confidence", new TextShape(1000), "not stated", "How sure they are.");
            return v => new Ground(name.From(v), roughness.From(v) / 1000, lambert.From(v), source.From(v), confidence.From(v));
        }));
}
