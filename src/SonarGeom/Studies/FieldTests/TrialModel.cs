using System.Collections.Concurrent;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Studies.FieldTests;

/// <summary>How often a trial ends in a report, by how far the echo is above the threshold: tabled once.</summary>
/// <remarks>One ping is a steady echo in noise (<see cref="DetectionProbability.Steady"/>); a trial is a report in k of n pings; its level
/// differs from trial to trial by a normal spread; a small share of trials slips either way.</remarks>
internal sealed class TrialModel
{
    private const double PingStepDecibels = 0.25;

    // With the threshold 3 dB or more over the noise, one ping 15 dB off it is as good as sure.
    private const double SureDecibels = 15;
    private const int SpreadNodes = 25;

    // Noise that is farther below the threshold moves it by less than 0.4 dB, and is taken to be there.
    private const double MostClearanceDecibels = 25;

    // Tables depend on nothing else and are made once for each setting: at most 23 of them.
    private static readonly ConcurrentDictionary<(int Clearance, int Hits, int Pings, double Spread), TrialTable> Known = new();

    private readonly Dictionary<int, TrialTable> _tables = [];

    internal TrialModel(FieldSettings settings, IEnumerable<double> clearancesDecibels)
    {
        foreach (double clearance in clearancesDecibels)
        {
            int key = Key(clearance);
            if (!_tables.ContainsKey(key))
            {
                _tables.Add(key, Known.GetOrAdd((key, settings.RequiredHits, settings.WindowPings, settings.SpreadDecibels), k => Table(k)));
            }
        }
    }

    /// <summary>Returns the chance of a report.</summary>
    /// <param name="marginDecibels">Echo less threshold. [dB]</param>
    /// <param name="clearanceDecibels">Threshold less noise, one of those prepared, to a decibel. [dB]</param>
    internal double Chance(double marginDecibels, double clearanceDecibels) => TableOf(clearanceDecibels).Chance(marginDecibels);

    /// <summary>Returns the table of a clearance, one of those prepared.</summary>
    internal TrialTable TableOf(double clearanceDecibels) => _tables[Key(clearanceDecibels)];

    private static int Key(double clearanceDecibels) => (int)Math.Round(Math.Clamp(clearanceDecibels, 3, MostClearanceDecibels));

    private static TrialTable Table((int Clearance, int Hits, int Pings, double Spread) of)
    {
        double clearance = of.Clearance;
        // A wider table of single levels first, then the mean over the spread.
        double alarm = Math.Exp(-Decibels.ToPowerRatio(clearance));
        double reach = TrialTable.ReachDecibels + (3 * of.Spread) + 1;
        int count = (int)Math.Ceiling(2 * reach / PingStepDecibels) + 1;
        double[] single = [.. Enumerable.Range(0, count).Select(i =>
        {
            double margin = -reach + (i * PingStepDecibels);
            double ping = margin < -SureDecibels ? alarm : margin > SureDecibels ? 1 : DetectionProbability.Steady(Math.Clamp(margin + clearance, -60, 60), alarm);
            return DetectionProbability.AtLeast(Math.Clamp(ping, 0, 1), of.Hits, of.Pings);
        })];
        double At(double margin)
        {
            double at = Math.Clamp((margin + reach) / PingStepDecibels, 0, count - 1.000001);
            int i = (int)at;
            return single[i] + ((at - i) * (single[i + 1] - single[i]));
        }

        double[] table = new double[TrialTable.Length];
        for (int i = 0; i < table.Length; i++)
        {
            double margin = -TrialTable.ReachDecibels + (i * TrialTable.StepDecibels), sum = 0, weights = 0;
            for (int n = 0; n < SpreadNodes; n++)
            {
                double z = -3 + (6.0 * n / (SpreadNodes - 1)), weight = Math.Exp(-0.5 * z * z);
                sum += weight * At(margin + (z * of.Spread));
                weights += weight;
            }

            table[i] = FieldSettings.SlipFraction + ((1 - (2 * FieldSettings.SlipFraction)) * sum / weights);
        }

        return new TrialTable(table);
    }
}

/// <summary>The chance of a report against the margin, with its logarithms.</summary>
internal sealed class TrialTable
{
    internal const double ReachDecibels = 30;
    internal const double StepDecibels = 0.1;
    internal const int Length = 601;

    private readonly double[] _chance;
    private readonly double[] _logReport;
    private readonly double[] _logSilence;

    internal TrialTable(double[] chance)
    {
        _chance = chance;
        _logReport = [.. chance.Select(p => Math.Log(p))];
        _logSilence = [.. chance.Select(p => Math.Log(1 - p))];
    }

    internal double Chance(double marginDecibels)
    {
        (int i, double share) = Place(marginDecibels);
        return _chance[i] + (share * (_chance[i + 1] - _chance[i]));
    }

    /// <summary>Returns the logarithm of the likelihood of a count, but for what does not depend on the margin.</summary>
    internal double LogLikelihood(double marginDecibels, int reports, int trials)
    {
        (int i, double share) = Place(marginDecibels);
        return (reports * (_logReport[i] + (share * (_logReport[i + 1] - _logReport[i]))))
            + ((trials - reports) * (_logSilence[i] + (share * (_logSilence[i + 1] - _logSilence[i]))));
    }

    private static (int Index, double Share) Place(double marginDecibels)
    {
        double at = (Math.Clamp(marginDecibels, -ReachDecibels, ReachDecibels) + ReachDecibels) / StepDecibels;
        int i = Math.Min((int)at, Length - 2);
        return (i, at - i);
    }
}
