namespace SonarGeom.Obstacles;

/// <summary>The top of a bollard.</summary>
public enum CapShape
{
    /// <summary>A flat disc with a sharp rim.</summary>
    Flat,

    /// <summary>A spherical cap; <see cref="Obstacle.CapSizeMetres"/> is its rise.</summary>
    Domed,

    /// <summary>A 45° chamfer round a flat disc; <see cref="Obstacle.CapSizeMetres"/> is its rise.</summary>
    Chamfered,
}
