using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Layouts;
using SonarGeom.Transducers;

namespace SonarGeom.Trials;

/// <summary>A burst of another moment or another sensor whose echoes a sensor may still hear while it listens.</summary>
/// <param name="Sender">Index of the sensor that sent it.</param>
/// <param name="ElapsedSeconds">How long before the listener's own burst. [s]</param>
/// <param name="FromMetres">Mean range from which on its echoes fall into the listening window. [m]</param>
/// <param name="ToMetres">Mean range to which they do. [m]</param>
/// <param name="LowestThresholdDecibels">The lowest threshold of the listener in its window. [dB re 20 µPa]</param>
internal readonly record struct Interference(int Sender, double ElapsedSeconds, double FromMetres, double ToMetres, double LowestThresholdDecibels)
{
    // Beyond 20 m, twice 120 ms, no part that is worn brings a wall back.
    private const double LookBackSeconds = 0.25;
    private const double NearestMetres = 0.05;

    // Corners and echoes that gather over several parts may beat the loudest single wall by this much.
    private const double ReserveDecibels = 6;

    /// <summary>Lists those that a large wall at the nearest range could bring over the lowest threshold, and the nearest range at which
    /// a burst comes straight across loudly enough; infinite if none does.</summary>
    internal static (ImmutableArray<Interference> Echoes, double DirectMetres) Of(DayLayout day, int listener)
    {
        Transducer ear = day.Posed.Layout.Sensors[listener].Transducer;
        double speed = day.Posed.Medium.SoundSpeedMetresPerSecond;
        double dead = day.Posed.Ear(listener).DeadZoneMetres;
        double lowest = ear.Threshold.Points.Min(p => Math.Max(p.LevelDecibels, ear.NoiseLevelDecibels));
        double direct = double.PositiveInfinity;
        FiringCoupling? coupling = null;
        var heard = ImmutableArray.CreateBuilder<Interference>();
        foreach (EarlierBurst burst in day.Schedule.Before(listener, LookBackSeconds, ear.ListeningWindowSeconds))
        {
            double shift = 0.5 * speed * burst.ElapsedSeconds;
            double from = Math.Max(NearestMetres, dead + shift), to = day.Farthest[listener] + shift;
            if (to < from)
            {
                continue;
            }

            coupling ??= FiringCoupling.Of(day.Posed);
            if (coupling.WallLevelDecibels(burst.Sensor, listener, from) + ReserveDecibels >= lowest)
            {
                heard.Add(new Interference(burst.Sensor, burst.ElapsedSeconds, from, to, lowest));
            }

            if (burst.Sensor != listener)
            {
                double apparent = ApparentRange.OfDirectMetres(coupling.DirectDistanceMetres(burst.Sensor, listener), burst.ElapsedSeconds, speed);
                if (apparent >= dead && apparent < direct
                    && coupling.DirectLevelDecibels(burst.Sensor, listener) >= ear.DetectionThresholdDecibels(2 * apparent / speed))
                {
                    direct = apparent;
                }
            }
        }

        return (heard.ToImmutable(), direct);
    }
}
