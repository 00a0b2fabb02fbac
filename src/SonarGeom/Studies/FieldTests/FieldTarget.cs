using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Studies.FieldTests;

/// <summary>The shape of a test target.</summary>
public enum FieldTargetKind
{
    /// <summary>An upright pole, its middle at the height of the sensor.</summary>
    Pole,

    /// <summary>A sphere.</summary>
    Sphere,

    /// <summary>A flat upright board.</summary>
    Board,
}

/// <summary>A target of a field test: something that anyone can buy or saw, hard and smooth.</summary>
/// <param name="Kind">Its shape.</param>
/// <param name="WidthMetres">Diameter of a pole or sphere, width of a board, 0.002 to 5. [m]</param>
/// <param name="HeightMetres">Height of a pole or board, 0.002 to 5; a sphere has its diameter. [m]</param>
public sealed record FieldTarget(FieldTargetKind Kind, double WidthMetres, double HeightMetres)
{
    /// <summary>Gets diameter or width. [m]</summary>
    public double WidthMetres { get; init; } = Finite.Within(WidthMetres, 0.002, 5, "Width of the target", "m");

    /// <summary>Gets the height. [m]</summary>
    public double HeightMetres { get; init; } = Finite.Within(HeightMetres, 0.002, 5, "Height of the target", "m");

    /// <summary>Gets the name: what it is and how large.</summary>
    public string Name => Kind switch
    {
        FieldTargetKind.Pole => $"{WidthMetres * 1000:0.#} mm pole, {HeightMetres:0.##} m tall",
        FieldTargetKind.Sphere => $"{WidthMetres * 1000:0.#} mm sphere",
        _ => $"board {WidthMetres * 1000:0.#} × {HeightMetres * 1000:0.#} mm",
    };

    /// <summary>Returns the target before a sensor at the origin that looks along X.</summary>
    /// <param name="rangeMetres">From the sensor to the nearest point of the target; to the middle of a board. [m]</param>
    /// <param name="offAxis">The direction of its middle, positive left of the boresight.</param>
    /// <param name="turn">By how much a board is turned from facing the sensor, positive left.</param>
    public TargetPart PartAt(double rangeMetres, Angle offAxis, Angle turn)
    {
        var towards = new Vec3(Math.Cos(offAxis.Radians), Math.Sin(offAxis.Radians), 0);
        double radius = 0.5 * WidthMetres;
        var up = new Vec3(0, 0, 0.5 * HeightMetres);
        switch (Kind)
        {
            case FieldTargetKind.Pole:
                Vec3 axis = (rangeMetres + radius) * towards;
                return new CylinderPart("pole", axis - up, axis + up, radius);
            case FieldTargetKind.Sphere:
                return new SpherePart("sphere", (rangeMetres + radius) * towards, radius);
            default:
                double facing = offAxis.Radians + turn.Radians;
                return PolygonPart.Rectangle("board", rangeMetres * towards, radius * new Vec3(Math.Sin(facing), -Math.Cos(facing), 0), up);
        }
    }
}
