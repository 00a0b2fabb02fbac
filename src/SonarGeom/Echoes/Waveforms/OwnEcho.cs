using System.Collections.Immutable;

namespace SonarGeom.Echoes.Waveforms;

/// <summary>The sensor and the surfaces of its wearer at one posture.</summary>
/// <param name="Posture">What the posture is called: a stride phase, "arm raised".</param>
/// <param name="Sensor">The sensor at its pose.</param>
/// <param name="Surfaces">The wearer's parts that may answer, each labelled: arm, hand, knee, cane, garment flap.</param>
public sealed record OwnPosture(string Posture, SensorAtPose Sensor, ImmutableArray<TraceSource> Surfaces);

/// <summary>The risk of a false alert from a part of the wearer, at its worst posture.</summary>
/// <param name="Label">The part.</param>
/// <param name="WorstPosture">The posture at which it stands highest over the threshold.</param>
/// <param name="RangeMetres">Half the path of its return there; 0 when it is silent in every posture. [m]</param>
/// <param name="LevelDecibels">Its level there. [dB re 20 µPa]</param>
/// <param name="MarginDecibels">Its level over threshold or noise there. [dB]</param>
/// <param name="PosturesHeard">In how many of the postures it crosses the threshold.</param>
/// <param name="Withheld">Why no verdict may rest on it; empty when one may.</param>
public sealed record OwnEcho(
    string Label,
    string WorstPosture,
    double RangeMetres,
    double LevelDecibels,
    double MarginDecibels,
    int PosturesHeard,
    ImmutableArray<string> Withheld)
{
    /// <summary>Gets whether it raises a false alert in some posture.</summary>
    public bool IsFalseAlert => PosturesHeard > 0;

    /// <summary>Gets by how much the threshold would have to rise to remove it; 0 when it raises no alert. [dB]</summary>
    public double ThresholdRiseDecibels => IsFalseAlert ? Math.Max(MarginDecibels, 0.0) : 0.0;

    /// <summary>Finds the worst posture of every part.</summary>
    /// <param name="postures">The postures; each part keeps its label through all of them.</param>
    /// <returns>One entry for each label, in the order in which they first appear.</returns>
    public static ImmutableArray<OwnEcho> Worst(IReadOnlyList<OwnPosture> postures)
    {
        ArgumentNullException.ThrowIfNull(postures);
        var worst = new List<OwnEcho>();
        foreach (OwnPosture posture in postures)
        {
            LevelTrace trace = LevelTrace.Of(posture.Sensor, posture.Surfaces);
            foreach (TraceContribution contribution in trace.Contributions)
            {
                int heard = contribution.FirstCrossingMetres.HasValue ? 1 : 0;
                int index = worst.FindIndex(echo => echo.Label == contribution.Label);
                if (index < 0)
                {
                    worst.Add(new OwnEcho(
                        contribution.Label, posture.Posture, contribution.RangeMetres, contribution.PeakDecibels,
                        contribution.LargestMarginDecibels, heard, contribution.Withheld));
                    continue;
                }

                OwnEcho before = worst[index] with { PosturesHeard = worst[index].PosturesHeard + heard };
                worst[index] = contribution.LargestMarginDecibels > before.MarginDecibels
                    ? before with
                    {
                        WorstPosture = posture.Posture,
                        RangeMetres = contribution.RangeMetres,
                        LevelDecibels = contribution.PeakDecibels,
                        MarginDecibels = contribution.LargestMarginDecibels,
                        Withheld = contribution.Withheld,
                    }
                    : before;
            }
        }

        return [.. worst];
    }
}
