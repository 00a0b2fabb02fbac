using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Files.Meshes;

/// <summary>How the coordinates and materials of a mesh file are to be understood.</summary>
public sealed record MeshFileOptions
{
    /// <summary>Gets the unit of the coordinates; null for that of the format, which only glTF states: metres.</summary>
    public LengthUnit? Unit { get; init; }

    /// <summary>Gets the axis that points up, Y or Z; null for that of the format, which only glTF states: Y.</summary>
    public MeshAxis? Up { get; init; }

    /// <summary>Gets the axis along which the front of the thing looks, which is turned to face the wearer; null for +Z when Y is up
    /// and −Y when Z is up.</summary>
    public MeshAxis? Front { get; init; }

    /// <summary>Gets the factor by which the thing is enlarged, above 0. [unitless]</summary>
    public double ScaleRatio { get; init; } = 1;

    /// <summary>Gets the loss at one reflection of materials that are not named. [dB]</summary>
    public double ReflectionLossDecibels { get; init; }

    /// <summary>Gets whether all facets stand for thin sheets that answer on both sides; otherwise those whose glTF material says so.</summary>
    public bool IsTwoSided { get; init; }

    /// <summary>Gets the losses of materials by name; each name must be in the file.</summary>
    public ImmutableArray<MaterialLoss> Materials { get; init; } = [];

    /// <summary>Returns the turn from the axes of the file to those of an obstacle (X away from the wearer, Y left, Z up); null when
    /// the two axes do not stand square to one another.</summary>
    internal Rotation? ObstacleFromFile(MeshAxis formatUp)
    {
        MeshAxis up = Up ?? formatUp;
        Vec3 z = Direction(up);
        Vec3 x = -Direction(Front ?? (up == MeshAxis.Y ? MeshAxis.Z : MeshAxis.MinusY));
        return x.Dot(z) != 0 ? null : new Rotation(x, z.Cross(x), z).Inverse;
    }

    internal double MetresPerUnit => ScaleRatio * Unit switch
    {
        LengthUnit.Centimetre => 0.01,
        LengthUnit.Millimetre => 0.001,
        LengthUnit.Inch => 0.0254,
        _ => 1,
    };

    private static Vec3 Direction(MeshAxis axis) => axis switch
    {
        MeshAxis.X => Vec3.UnitX,
        MeshAxis.MinusX => -Vec3.UnitX,
        MeshAxis.Y => Vec3.UnitY,
        MeshAxis.MinusY => -Vec3.UnitY,
        MeshAxis.Z => Vec3.UnitZ,
        _ => -Vec3.UnitZ,
    };
}
