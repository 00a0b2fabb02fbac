namespace SonarGeom.Rendering.Figures;

/// <summary>The symbol at a point.</summary>
public enum MarkerShape
{
    /// <summary>No symbol.</summary>
    None,

    /// <summary>A filled circle.</summary>
    Circle,

    /// <summary>A filled square.</summary>
    Square,

    /// <summary>A filled triangle, point up.</summary>
    Triangle,

    /// <summary>A filled diamond.</summary>
    Diamond,

    /// <summary>A filled triangle, point down.</summary>
    TriangleDown,

    /// <summary>Two crossed diagonal strokes.</summary>
    Cross,

    /// <summary>An upright cross.</summary>
    Plus,

    /// <summary>An open circle.</summary>
    Ring,
}
