namespace SonarGeom.Coverage;

/// <summary>How near the reports must hold without a break for a first report to count as reliable.</summary>
public enum HoldRule
{
    /// <summary>Down to the dead zone of the nearest sensor: the hazard must never be lost again while it is in front.</summary>
    DeadZone,

    /// <summary>Down to the distance at which the wearer must start to act: what is lost later was already warned of.</summary>
    TimeNeeded,
}
