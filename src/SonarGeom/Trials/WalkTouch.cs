namespace SonarGeom.Trials;

/// <summary>What becomes of one obstacle in one walk.</summary>
/// <param name="IsTouched">Whether the body would run into it.</param>
/// <param name="Seconds">When it is touched, or when the wearer comes level with it. [s]</param>
/// <param name="Stretch">Index of the stretch of path on which that is.</param>
/// <param name="Side">−1 when what touches is clearly to the right, 1 clearly to the left, 0 else.</param>
internal readonly record struct WalkTouch(bool IsTouched, double Seconds, int Stretch, int Side);
