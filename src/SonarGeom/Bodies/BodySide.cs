namespace SonarGeom.Bodies;

/// <summary>A side of the wearer, as the wearer calls it.</summary>
public enum BodySide
{
    /// <summary>The wearer's left, positive Y.</summary>
    Left,

    /// <summary>The wearer's right, negative Y.</summary>
    Right,
}
