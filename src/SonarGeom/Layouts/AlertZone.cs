using SonarGeom.Quantities;

namespace SonarGeom.Layouts;

/// <summary>A stretch of ranges of one sensor in which reports become an alert.</summary>
public sealed record AlertZone
{
    /// <summary>Makes a zone.</summary>
    /// <param name="sensor">Name of the sensor.</param>
    /// <param name="fromMetres">Its near end in reported range, from 0. [m]</param>
    /// <param name="toMetres">Its far end, above the near one; infinite for the end of the listening window. [m]</param>
    /// <param name="message">What the alert tells.</param>
    /// <param name="priority">1 for the most urgent, up to 100.</param>
    /// <param name="repeatSeconds">Time from one alert to the next while reports stay in the zone, from 0.05 to 60. [s]</param>
    /// <exception cref="ArgumentException">A value is outside its range.</exception>
    public AlertZone(string sensor, double fromMetres, double toMetres, AlertMessage message, int priority = 1, double repeatSeconds = 1)
    {
        ArgumentException.ThrowIfNullOrWhiteSpace(sensor);
        Finite.Within(fromMetres, 0, 100, "Near end of the alert zone", "m");
        if (!(toMetres > fromMetres))
        {
            throw new ArgumentOutOfRangeException(nameof(toMetres), $"The alert zone of {sensor} ends at {toMetres} m; it must end beyond {fromMetres} m, where it begins.");
        }

        Sensor = sensor;
        FromMetres = fromMetres;
        ToMetres = toMetres;
        Message = message;
        Priority = (int)Finite.Within(priority, 1, 100, "Priority of the alert zone", "(no unit)");
        RepeatSeconds = Finite.Within(repeatSeconds, 0.05, 60, "Repeat time of the alert zone", "s");
    }

    /// <summary>Gets the name of the sensor.</summary>
    public string Sensor { get; }

    /// <summary>Gets the near end in reported range. [m]</summary>
    public double FromMetres { get; }

    /// <summary>Gets the far end; infinite for the end of the listening window. [m]</summary>
    public double ToMetres { get; }

    /// <summary>Gets what the alert tells.</summary>
    public AlertMessage Message { get; }

    /// <summary>Gets how urgent it is, 1 first: it cuts in on messages of a higher number.</summary>
    public int Priority { get; }

    /// <summary>Gets the time from one alert to the next while reports stay in the zone. [s]</summary>
    public double RepeatSeconds { get; }
}
