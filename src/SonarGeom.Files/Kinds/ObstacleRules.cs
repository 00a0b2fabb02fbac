using System.Collections.Immutable;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Kinds;

/// <summary>Which sizes each kind of obstacle has, by the names they have in files.</summary>
internal static class ObstacleRules
{
    /// <summary>Names of sizes in files.</summary>
    internal const string Length = "length_m", Width = "width_m", Height = "height_m", Depth = "depth_m", Diameter = "diameter_m",
        Cap = "cap", CapRise = "cap_rise_m", Sag = "sag_m", Riser = "riser_m", Going = "going_m", Steps = "steps", Form = "form", LeafRadius = "leaf_radius_mm",
        Leaves = "leaves_per_m3";

    /// <summary>The sizes, in the order of the columns.</summary>
    internal static readonly ImmutableArray<string> All = [Length, Width, Height, Depth, Diameter, Cap, CapRise, Sag, Riser, Going, Steps, Form, LeafRadius, Leaves];

    /// <summary>Returns the sizes that a kind must have and those that it may have.</summary>
    internal static (ImmutableArray<string> Needed, ImmutableArray<string> Optional) Of(ObstacleKind kind) => kind switch
    {
        ObstacleKind.Pole => ([Height, Diameter], []),
        ObstacleKind.Bar => ([Length, Diameter], []),
        ObstacleKind.Sphere => ([Diameter], []),
        ObstacleKind.Board or ObstacleKind.Sign => ([Width, Height], [Depth, Diameter]),
        ObstacleKind.Wall or ObstacleKind.WallFloorCorner => ([Width, Height], [Depth]),
        ObstacleKind.Box => ([Width, Height, Depth], []),
        ObstacleKind.KerbUp or ObstacleKind.StepDown => ([Length, Height], [Depth]),
        ObstacleKind.Stairs => ([Width, Riser, Going, Steps], []),
        ObstacleKind.Awning or ObstacleKind.TailGate or ObstacleKind.StairUnderside => ([Width, Depth], [Diameter]),
        ObstacleKind.Bollard => ([Height, Diameter], [Cap, CapRise]),
        ObstacleKind.Chain => ([Length, Diameter], [Sag]),
        ObstacleKind.Foliage => ([Width, Height, Depth, Form, LeafRadius, Leaves], []),
        _ => throw new ArgumentOutOfRangeException(nameof(kind), $"The kind {kind} has no sizes in files."),
    };

    /// <summary>Tells what is wrong with the choice of sizes.</summary>
    /// <param name="kind">The kind.</param>
    /// <param name="kindWord">The kind as written in files.</param>
    /// <param name="isGiven">Whether a size is given.</param>
    /// <param name="fault">Told the name of the size and one sentence.</param>
    internal static void Check(ObstacleKind kind, string kindWord, Func<string, bool> isGiven, Action<string, string> fault)
    {
        (ImmutableArray<string> needed, ImmutableArray<string> optional) = Of(kind);
        string may = optional.IsEmpty ? string.Empty : $", and may have {string.Join(", ", optional)}";
        foreach (string size in All)
        {
            bool given = isGiven(size);
            if (!given && needed.Contains(size))
            {
                fault(size, $"{size} is missing; a {kindWord} must have {string.Join(", ", needed)}{may}.");
            }
            else if (given && !needed.Contains(size) && !optional.Contains(size))
            {
                fault(size, $"{size} is given, but a {kindWord} has none; it must have {string.Join(", ", needed)}{may}.");
            }
        }
    }
}
