using SonarGeom.Files.Shapes;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Kinds;

/// <summary>What the fields of an obstacle may hold, alike in tables and in documents.</summary>
internal static class ObstacleShapes
{
    /// <summary>Farthest from the wearer that an obstacle may stand. [m]</summary>
    internal const double Farthest = 200;

    /// <summary>The kinds that have sizes; a mesh has a file.</summary>
    internal static readonly ChoiceShape<ObstacleKind> Kind = ChoiceShape.OfEnum<ObstacleKind>(but: ObstacleKind.Mesh);

    /// <summary>All kinds, as the rows of a table may have them.</summary>
    internal static readonly ChoiceShape<ObstacleKind> AnyKind = ChoiceShape.OfEnum<ObstacleKind>();
    internal static readonly ChoiceShape<CapShape> Cap = ChoiceShape.OfEnum<CapShape>();
    internal static readonly ChoiceShape<FoliageForm> Form = ChoiceShape.OfEnum<FoliageForm>();
    internal static readonly NumberShape LeafRadius = new(5, 150);
    internal static readonly NumberShape Leaves = new(0, 1e6, aboveLeast: true);
    internal static readonly TextShape Id = new(60);
    internal static readonly TextShape Words = new(1000, mayBeEmpty: true);
    internal static readonly NumberShape Position = new(-Farthest, Farthest);
    internal static readonly NumberShape Turn = new(-360, 360);
    internal static readonly NumberShape Size = new(0, Farthest, aboveLeast: true);
    internal static readonly NumberShape SizeOrNone = new(0, Farthest);
    internal static readonly WholeNumberShape Steps = new(1, 200);
    internal static readonly NumberShape Loss = new(0, 100);
    internal static readonly NumberShape Roughness = new(0, 500);
    internal static readonly NumberShape Speed = new(0, 60);
}
