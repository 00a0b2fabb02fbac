using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Rendering.Scenes;

/// <summary>Where a viewer starts.</summary>
/// <param name="Eye">Position of the eye. [m]</param>
/// <param name="Target">The point looked at, not straight above or below the eye. [m]</param>
/// <param name="VerticalFieldOfView">Full angle between the upper and the lower edge of the view.</param>
public sealed record SceneCamera(Vec3 Eye, Vec3 Target, Angle VerticalFieldOfView);

/// <summary>An immutable description of a three-dimensional scene. <see cref="SceneWriter"/> turns it into a binary glTF
/// file.</summary>
/// <param name="Name">The scene's name.</param>
/// <param name="Items">What is in it, in the order of the viewer's outline. Put translucent things last and the outermost
/// at the very end: viewers draw them in this order.</param>
public sealed record SceneDocument(string Name, ImmutableArray<SceneItem> Items)
{
    /// <summary>Gets the cameras; viewers offer them by name.</summary>
    public ImmutableArray<(string Name, SceneCamera Camera)> Cameras { get; init; } = [];

    /// <summary>Gets the name of the animation of all that moves.</summary>
    public string MotionName { get; init; } = "motion";
}
