namespace SonarGeom.Bodies;

/// <summary>The kinds of wheelchair for which seat heights are tabled.</summary>
public enum WheelchairKind
{
    /// <summary>Pushed by hand.</summary>
    Manual,

    /// <summary>Driven by a motor.</summary>
    Powered,
}
