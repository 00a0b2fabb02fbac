namespace SonarGeom.Layouts;

/// <summary>The side on which a sensor's alert tells the wearer that something is.</summary>
public enum AnnouncedSide
{
    /// <summary>To the wearer's left.</summary>
    Left,

    /// <summary>To the wearer's right.</summary>
    Right,

    /// <summary>Straight ahead.</summary>
    Ahead,
}
