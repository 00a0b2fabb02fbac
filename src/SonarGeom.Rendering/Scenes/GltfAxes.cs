using System.Numerics;
using SonarGeom.Geometry;

namespace SonarGeom.Rendering.Scenes;

/// <summary>The one place that knows glTF's frame: Y up, Z forward, X to the left.</summary>
/// <remarks>World (x ahead, y left, z up) becomes (y, z, x): a rotation, no mirror, so facets keep their sense.</remarks>
internal static class GltfAxes
{
    public static Vector3 FromWorld(Vec3 v) => new((float)v.Y, (float)v.Z, (float)v.X);

    public static Vec3 ToWorld(Vector3 v) => new(v.Z, v.X, v.Y);
}
