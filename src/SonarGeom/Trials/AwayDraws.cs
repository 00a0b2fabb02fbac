namespace SonarGeom.Trials;

/// <summary>When the device of one walk does not look: times between and lengths are drawn exponentially.</summary>
internal sealed class AwayDraws
{
    private readonly TrialSettings _settings;
    private readonly double[] _from;
    private readonly double[] _until;
    private SeededDraws _draws;

    internal AwayDraws(TrialSettings settings, SeededDraws draws)
    {
        _settings = settings;
        _draws = draws;
        _from = new double[settings.Away.Length];
        _until = new double[settings.Away.Length];
        for (int i = 0; i < _from.Length; i++)
        {
            // A walk begins at any moment: the device is away then as often as at any other.
            AwayTime away = settings.Away[i];
            bool isAway = _draws.Uniform() < away.ShareFraction;
            _from[i] = isAway ? 0 : GapSeconds(away);
            _until[i] = _from[i] + (away.MeanSeconds * _draws.Exponential());
        }
    }

    /// <summary>Returns what the device does instead of looking at a time, or null; times must not go back.</summary>
    internal string? At(double seconds)
    {
        string? reason = null;
        for (int i = 0; i < _from.Length; i++)
        {
            AwayTime away = _settings.Away[i];
            while (away.ShareFraction > 0 && seconds >= _until[i])
            {
                _from[i] = _until[i] + GapSeconds(away);
                _until[i] = _from[i] + (away.MeanSeconds * _draws.Exponential());
            }

            reason ??= away.ShareFraction > 0 && seconds >= _from[i] ? away.Reason : null;
        }

        return reason;
    }

    private double GapSeconds(AwayTime away) => away.ShareFraction > 0
        ? away.MeanSeconds * (1 - away.ShareFraction) / away.ShareFraction * _draws.Exponential()
        : double.PositiveInfinity;
}
