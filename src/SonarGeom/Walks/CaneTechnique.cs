namespace SonarGeom.Walks;

/// <summary>How a long cane is swept.</summary>
public enum CaneTechnique
{
    /// <summary>The tip stays on the ground all the time.</summary>
    ConstantContact,

    /// <summary>The tip touches the ground at both ends of its arc and is lifted between.</summary>
    TwoPointTouch,
}
