namespace SonarGeom.Obstacles;

/// <summary>A solid that rays can be tested against: what an obstacle hides things behind.</summary>
public abstract record SolidPrimitive;
