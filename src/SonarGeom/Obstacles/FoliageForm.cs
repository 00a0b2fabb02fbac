namespace SonarGeom.Obstacles;

/// <summary>The shape that leaves fill.</summary>
public enum FoliageForm
{
    /// <summary>An ellipsoid: a bush, the crown of a tree, the leafy end of a branch.</summary>
    Ellipsoid,

    /// <summary>A box: a clipped hedge.</summary>
    Box,
}
