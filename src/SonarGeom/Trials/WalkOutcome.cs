namespace SonarGeom.Trials;

/// <summary>What became of one obstacle in one walk with one layout.</summary>
/// <param name="IsTouched">Whether the body would run into it.</param>
/// <param name="WarningSeconds">Time from the alert to the touch; not a number when there was none. [s]</param>
/// <param name="IsSided">Whether a side was announced of something clearly to one side.</param>
/// <param name="IsWrongSide">Whether it was the wrong one.</param>
/// <param name="Cause">Why the wearer was not warned in time; null when warned, or when the obstacle was never heard.</param>
internal readonly record struct WalkOutcome(bool IsTouched, double WarningSeconds, bool IsSided, bool IsWrongSide, MissCause? Cause)
{
    internal static WalkOutcome Passed { get; } = new(false, double.NaN, false, false, null);

    internal bool IsAlerted => !double.IsNaN(WarningSeconds);

    internal bool IsWarned => IsTouched && IsAlerted && Cause is null;
}
