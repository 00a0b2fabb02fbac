using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>What stands between a sensor and an obstacle, and what is heard before it.</summary>
/// <param name="Wearer">The wearer's body, or null to leave it out.</param>
/// <param name="OtherObstacles">The other obstacles, without the one in question; or null.</param>
/// <param name="FloorCrossingMetres">The range at which the floor itself first crosses the threshold, or null when it does not. [m]</param>
/// <param name="OwnLimbCrossingMetres">The range at which the wearer's own limb, cane or garment first crosses it, or null. [m]</param>
/// <param name="WearerGapMetres">Distance from the transducers within which the wearer's body is not looked at: the site itself. [m]</param>
public sealed record EchoSurroundings(
    IRayScene? Wearer = null, IRayScene? OtherObstacles = null, double? FloorCrossingMetres = null, double? OwnLimbCrossingMetres = null,
    double WearerGapMetres = 0.03)
{
    /// <summary>Gets foliage that may be in the way: it weakens and blanks nothing.</summary>
    public ImmutableArray<FoliagePart> Leaves { get; init; } = [];

    /// <summary>Gets how far that foliage is displaced. [m]</summary>
    public Vec3 LeavesOffsetMetres { get; init; }

    /// <summary>Gets open air: nothing in the way, nothing heard before.</summary>
    public static EchoSurroundings Open { get; } = new();
}
