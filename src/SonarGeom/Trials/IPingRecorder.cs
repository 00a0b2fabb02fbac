namespace SonarGeom.Trials;

/// <summary>Told of every ping of a walk.</summary>
internal interface IPingRecorder
{
    /// <summary>A ping and what was reported of it.</summary>
    void Ping(double seconds, int sensor, in PingReport report);

    /// <summary>A ping that was left out.</summary>
    void Away(double seconds, int sensor, string reason);
}
