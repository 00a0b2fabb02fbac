using System.Collections.Immutable;
using SonarGeom.Bodies;

namespace SonarGeom.Walks;

/// <summary>One movement of the stride at one speed: a sine of a tabled size and phase.</summary>
/// <param name="Amplitude">Half of the whole movement. [m], or [rad]</param>
/// <param name="CyclesPerStride">1 or 2.</param>
/// <param name="PhaseOfMaximum">Stride phase of the first maximum. [unitless]</param>
internal readonly record struct Excursion(double Amplitude, int CyclesPerStride, double PhaseOfMaximum)
{
    /// <summary>Returns the movement at a stride phase.</summary>
    internal double At(double phase) => Amplitude * Math.Cos(2 * Math.PI * CyclesPerStride * (phase - PhaseOfMaximum));
}

/// <summary>The movements of the stride at one speed, from the tables.</summary>
internal sealed class Excursions(ImmutableArray<WalkingExcursion> rows, double speedMetresPerSecond)
{
    /// <summary>Gets the movement of a name: straight in speed between the rows, the end rows holding beyond the ends.</summary>
    internal Excursion this[string quantity] => Of(quantity, speedMetresPerSecond);

    /// <summary>Returns the movement of the head that goes with one of the pelvis. It is tabled at one speed only; at others it is to
    /// the movement of the pelvis as it is there.</summary>
    internal Excursion HeadWith(string head, string pelvis)
    {
        WalkingExcursion tabled = rows.First(r => r.Quantity == head);
        double there = Of(pelvis, tabled.SpeedMetresPerSecond).Amplitude;
        Excursion its = Of(head, tabled.SpeedMetresPerSecond);
        return its with { Amplitude = its.Amplitude * Of(pelvis, speedMetresPerSecond).Amplitude / there };
    }

    private Excursion Of(string quantity, double speed)
    {
        ImmutableArray<WalkingExcursion> its = [.. rows.Where(r => r.Quantity == quantity)];
        if (its.IsEmpty)
        {
            throw new ArgumentException($"The body tables have no movement {quantity}; the table of walking excursions must give it.", nameof(quantity));
        }

        int i = 0;
        while (i < its.Length && its[i].SpeedMetresPerSecond < speed)
        {
            i++;
        }

        double whole;
        if (i == 0 || i == its.Length)
        {
            whole = its[Math.Min(i, its.Length - 1)].PeakToPeak;
        }
        else
        {
            double share = (speed - its[i - 1].SpeedMetresPerSecond) / (its[i].SpeedMetresPerSecond - its[i - 1].SpeedMetresPerSecond);
            whole = ((1 - share) * its[i - 1].PeakToPeak) + (share * its[i].PeakToPeak);
        }

        double unit = its[0].Unit == "deg" ? Math.PI / 180 : 1;
        return new Excursion(whole * unit / 2, its[0].CyclesPerStride, its[0].PhaseOfMaximum);
    }
}
