namespace SonarGeom.Files.Meshes;

/// <summary>The unit in which a mesh file gives coordinates.</summary>
public enum LengthUnit
{
    /// <summary>Metre.</summary>
    Metre,

    /// <summary>Centimetre.</summary>
    Centimetre,

    /// <summary>Millimetre.</summary>
    Millimetre,

    /// <summary>Inch of 25.4 mm.</summary>
    Inch,
}
