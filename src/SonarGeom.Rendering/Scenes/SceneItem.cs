using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Scenes;

/// <summary>A named thing in a scene. Positions are in the world frame: metres, X ahead, Y left, Z up.</summary>
/// <param name="Name">Its name, shown by viewers in their outline.</param>
public abstract record SceneItem(string Name)
{
    /// <summary>Gets facts about the thing, written beside its name for programs and readers.</summary>
    public ImmutableArray<SceneFact> Facts { get; init; } = [];
}

/// <summary>A fact about a thing in a scene.</summary>
/// <param name="Key">What is told, with the unit, such as "warning time (s)".</param>
/// <param name="Value">The value as text.</param>
public sealed record SceneFact(string Key, string Value);

/// <summary>Things under one name.</summary>
/// <param name="Name">The common name.</param>
/// <param name="Items">The things; a group without any drawn thing is left out.</param>
public sealed record SceneGroup(string Name, ImmutableArray<SceneItem> Items) : SceneItem(Name);

/// <summary>A surface.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Mesh">Its facets, counter-clockwise seen from outside; a surface without facets is left out. [m]</param>
/// <param name="Colour">Its colour; an opacity below 255 lets the things behind shine through.</param>
public sealed record SceneSurface(string Name, TriangleMesh Mesh, Colour Colour) : SceneItem(Name)
{
    /// <summary>Gets the angle between neighbouring facets above which the edge between them is drawn sharp; 0 draws every
    /// facet flat.</summary>
    public Angle SharpEdge { get; init; } = Angle.FromDegrees(40);

    /// <summary>Gets whether the inside is drawn too; translucent surfaces always are.</summary>
    public bool IsTwoSided { get; init; }
}

/// <summary>Polylines one picture element wide, whatever the distance.</summary>
/// <param name="Name">Their name.</param>
/// <param name="Lines">The polylines; those of fewer than two points are left out. [m]</param>
/// <param name="Colour">Their colour.</param>
public sealed record SceneLines(string Name, ImmutableArray<ImmutableArray<Vec3>> Lines, Colour Colour) : SceneItem(Name);
