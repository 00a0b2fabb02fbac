namespace SonarGeom.Coverage;

/// <summary>A band of body height, from the ground up.</summary>
public enum HeightBand
{
    /// <summary>From the ground to the middle of the shin.</summary>
    Foot,

    /// <summary>From the middle of the shin to the crotch.</summary>
    Knee,

    /// <summary>From the crotch to the base of the sternum.</summary>
    Waist,

    /// <summary>From the base of the sternum to 50 mm below the chin.</summary>
    Chest,

    /// <summary>From 50 mm below the chin to 100 mm above the crown with footwear.</summary>
    Head,
}
