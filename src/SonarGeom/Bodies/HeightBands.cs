namespace SonarGeom.Bodies;

/// <summary>A span of height above the ground.</summary>
/// <param name="BottomMetres">Lower edge. [m]</param>
/// <param name="TopMetres">Upper edge. [m]</param>
public readonly record struct BandSpan(double BottomMetres, double TopMetres)
{
    /// <summary>Returns whether a height lies in the span, its lower edge included.</summary>
    /// <param name="heightMetres">Height above the ground. [m]</param>
    public bool Contains(double heightMetres) => heightMetres >= BottomMetres && heightMetres < TopMetres;
}

/// <summary>The bands of body height of one wearer in the posture worn, in shoes. Each begins where the one below it ends.</summary>
/// <param name="Foot">From the ground to the middle of the shin.</param>
/// <param name="Knee">From the middle of the shin to the crotch.</param>
/// <param name="Waist">From the crotch to the base of the breastbone.</param>
/// <param name="Chest">From there to 50 mm below the chin.</param>
/// <param name="Head">From there to 100 mm above the highest point of the head.</param>
public sealed record HeightBands(BandSpan Foot, BandSpan Knee, BandSpan Waist, BandSpan Chest, BandSpan Head)
{
    /// <summary>How far below the chin the head band begins. [m]</summary>
    public const double BelowChinMetres = 0.05;

    /// <summary>How far above the crown the head band ends. [m]</summary>
    public const double AboveCrownMetres = 0.10;

    /// <summary>Returns the bands between five heights; a height below the one before it is raised to it.</summary>
    internal static HeightBands Between(double midShin, double crotch, double sternumBase, double chin, double crown)
    {
        double knee = Math.Max(midShin, crotch);
        double waist = Math.Max(knee, sternumBase);
        double chest = Math.Max(waist, chin - BelowChinMetres);
        return new HeightBands(
            new BandSpan(0, midShin),
            new BandSpan(midShin, knee),
            new BandSpan(knee, waist),
            new BandSpan(waist, chest),
            new BandSpan(chest, crown + AboveCrownMetres));
    }
}
