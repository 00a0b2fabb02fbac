namespace SonarGeom.Layouts;

/// <summary>What an alert tells the wearer.</summary>
public enum AlertMessage
{
    /// <summary>Something is to the left.</summary>
    Left,

    /// <summary>Something is to the right.</summary>
    Right,

    /// <summary>Something is ahead.</summary>
    Ahead,

    /// <summary>Something is at head height.</summary>
    HeadHigh,

    /// <summary>Something is low.</summary>
    Low,
}
