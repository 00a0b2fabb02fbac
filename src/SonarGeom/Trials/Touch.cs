namespace SonarGeom.Trials;

/// <summary>Where a wearer touches an obstacle, walking at some place beside the line.</summary>
/// <param name="AlongMetres">Way of the wearer's origin along the stretch; infinite when the body passes by. [m]</param>
/// <param name="MiddleMetres">Middle of what the body meets, to the left of the wearer. [m]</param>
/// <param name="HalfWidthMetres">Half its width. [m]</param>
internal readonly record struct Touch(double AlongMetres, double MiddleMetres, double HalfWidthMetres)
{
    private const double ClearlyOneSidedMetres = 0.12;

    /// <summary>Gets −1 for clearly to the right, 1 for clearly to the left, 0 else.</summary>
    internal int Side =>
        MiddleMetres - (0.5 * HalfWidthMetres) > ClearlyOneSidedMetres ? 1
        : MiddleMetres + (0.5 * HalfWidthMetres) < -ClearlyOneSidedMetres ? -1
        : 0;
}
