namespace SonarGeom.Files.Meshes;

/// <summary>An axis of a mesh file, with its sense.</summary>
public enum MeshAxis
{
    /// <summary>Along +X.</summary>
    X,

    /// <summary>Along −X.</summary>
    MinusX,

    /// <summary>Along +Y.</summary>
    Y,

    /// <summary>Along −Y.</summary>
    MinusY,

    /// <summary>Along +Z.</summary>
    Z,

    /// <summary>Along −Z.</summary>
    MinusZ,
}
