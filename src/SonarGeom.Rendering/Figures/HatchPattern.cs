namespace SonarGeom.Rendering.Figures;

/// <summary>Strokes that fill a region, so that it can be told from others without colour.</summary>
public enum HatchPattern
{
    /// <summary>No strokes.</summary>
    None,

    /// <summary>Strokes rising to the right.</summary>
    Rising,

    /// <summary>Strokes falling to the right.</summary>
    Falling,

    /// <summary>Level strokes.</summary>
    Level,

    /// <summary>Upright strokes.</summary>
    Upright,

    /// <summary>Strokes rising and falling.</summary>
    Lattice,

    /// <summary>Level and upright strokes.</summary>
    Grid,

    /// <summary>Dots.</summary>
    Dots,

    /// <summary>Strokes rising to the right, close together.</summary>
    RisingDense,

    /// <summary>Strokes falling to the right, close together.</summary>
    FallingDense,
}
