using System.Collections.Immutable;
using SharpGLTF.Schema2;
using SonarGeom.Geometry;
using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Scenes;

/// <summary>Puts geometry into a glTF model.</summary>
/// <remarks>
/// The glTF library has a second package with mesh builders; this project uses only its base package and the small writer
/// behind this interface, so that the builders could take its place without touching anything else.
/// </remarks>
internal interface IGltfMeshWriter
{
    /// <summary>Adds a surface; null when it has no facet to draw.</summary>
    Mesh? AddSurface(SceneSurface surface);

    /// <summary>Adds polylines; null when there is no line to draw.</summary>
    Mesh? AddLines(string name, ImmutableArray<ImmutableArray<Vec3>> lines, Colour colour);
}
