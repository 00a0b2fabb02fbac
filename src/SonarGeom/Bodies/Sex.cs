namespace SonarGeom.Bodies;

/// <summary>The sex whose survey tables are used.</summary>
public enum Sex
{
    /// <summary>Tables of men or boys.</summary>
    Male,

    /// <summary>Tables of women or girls.</summary>
    Female,
}
