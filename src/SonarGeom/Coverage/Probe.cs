using SonarGeom.Quantities;

namespace SonarGeom.Coverage;

/// <summary>A small target of stated shape and attitude, centred on each cell of a map in turn.</summary>
/// <param name="Name">Short name used in files and tables.</param>
/// <param name="Description">What it stands for, in words.</param>
/// <param name="Shape">Its shape.</param>
/// <param name="DiameterMetres">Diameter of a rod, branch or sphere; unused for a board. [m]</param>
/// <param name="LengthMetres">Length of a rod or branch, width of a board; unused for a sphere. [m]</param>
/// <param name="HeightMetres">Height of a board; unused otherwise. [m]</param>
/// <param name="Yaw">Turn about the vertical, positive left.</param>
/// <param name="Pitch">Tilt of the front upwards.</param>
/// <param name="ReflectionLossDecibels">Loss of the surface against a rigid one, 0 or more. [dB]</param>
public sealed record Probe(
    string Name,
    string Description,
    ProbeShape Shape,
    double DiameterMetres,
    double LengthMetres,
    double HeightMetres,
    Angle Yaw,
    Angle Pitch,
    double ReflectionLossDecibels = 0)
{
    /// <summary>Gets the probes that every default map set uses, in order.</summary>
    public static IReadOnlyList<Probe> Defaults { get; } =
    [
        new("branch-30mm", "level branch, 30 mm thick and 400 mm long, across the path", ProbeShape.Branch, 0.030, 0.400, 0, Angle.Zero, Angle.Zero),
        new("rod-25mm", "upright rod, 25 mm thick and 300 mm tall", ProbeShape.Rod, 0.025, 0.300, 0, Angle.Zero, Angle.Zero),
        new("sphere-100mm", "sphere, 100 mm in diameter", ProbeShape.Sphere, 0.100, 0, 0, Angle.Zero, Angle.Zero),
        new("board-square-on", "board, 300 mm square, facing the wearer", ProbeShape.Board, 0, 0.300, 0.300, Angle.Zero, Angle.Zero),
        new("board-turned-30", "board, 300 mm square, turned 30° about the vertical", ProbeShape.Board, 0, 0.300, 0.300, Angle.FromDegrees(30), Angle.Zero),
    ];
}
