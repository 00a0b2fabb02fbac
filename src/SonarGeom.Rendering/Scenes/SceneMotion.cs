using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Rendering.Scenes;

/// <summary>Where something is at one moment.</summary>
/// <param name="Seconds">The moment, from 0. [s]</param>
/// <param name="WorldFromItem">Where its own frame is.</param>
public readonly record struct SceneKey(double Seconds, RigidTransform WorldFromItem);

/// <summary>A rigid thing that moves. Its shape is in its own frame; viewers that play no animation show the first moment.</summary>
/// <param name="Name">Its name.</param>
/// <param name="Item">What moves, in its own frame.</param>
/// <param name="Keys">Where it is at rising moments, at least one; between them viewers move and turn it evenly.</param>
public sealed record SceneMotion(string Name, SceneItem Item, ImmutableArray<SceneKey> Keys) : SceneItem(Name);
