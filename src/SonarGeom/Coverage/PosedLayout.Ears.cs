namespace SonarGeom.Coverage;

/// <content>The sensors one by one, for those that hear ping by ping.</content>
public sealed partial class PosedLayout
{
    /// <summary>Returns one sensor with its shadows and what it hears of floor and limbs.</summary>
    internal PosedSensor Ear(int sensor) => _sensors[sensor];
}
