using MathNet.Numerics.Distributions;
using SonarGeom.Echoes;
using SonarGeom.Transducers;

namespace SonarGeom.Studies.FieldTests;

/// <summary>Maximum likelihood over figure of merit and radius.</summary>
internal sealed class FieldFitter
{
    private const int RadiusSteps = 80;
    private const double RadiusReach = 3;
    private const double GainReach = 25;
    private const double LowestMargin = -60;

    private readonly Transducer _transducer;
    private readonly FieldSettings _settings;
    private readonly FieldObservation[] _rows;
    private readonly double _firstLog;
    private readonly double _stepLog;
    private readonly double[][] _margins;
    private readonly TrialTable[] _tables;

    internal FieldFitter(Transducer transducer, FieldSettings settings, FieldObservation[] rows)
    {
        _transducer = transducer;
        _settings = settings;
        _rows = rows;
        double radius = FieldModel.RadiusMetres(transducer);
        _firstLog = Math.Log(radius / RadiusReach);
        _stepLog = 2 * Math.Log(RadiusReach) / RadiusSteps;
        var medium = new EchoMedium(settings.Air);
        _margins = new double[RadiusSteps + 1][];
        var clearances = new double[rows.Length];
        Parallel.For(0, RadiusSteps + 1, i =>
        {
            var prepared = new PreparedTransducer(FieldModel.WithRadius(transducer, Math.Exp(_firstLog + (i * _stepLog))), medium);
            FieldEcho[] echoes = [.. rows.Select(r => FieldModel.EchoOf(prepared, r.Position))];
            _margins[i] = [.. echoes.Select(e => Math.Max(LowestMargin, e.MarginDecibels))];
            if (i == RadiusSteps / 2)
            {
                echoes.Select(e => e.ClearanceDecibels).ToArray().CopyTo(clearances, 0);
            }
        });
        var model = new TrialModel(settings, clearances);
        _tables = [.. clearances.Select(model.TableOf)];
    }

    internal FieldFit Fit()
    {
        // The best over both: the profile over the radius, closely.
        double at = Peak(0, RadiusSteps, RadiusSteps, ProfileOfRadius, out double best);
        double gain = BestGain(at, out _);
        double deviance = Math.Max(0, 2 * (_rows.Sum(Saturated) - best));
        int free = Math.Max(0, _rows.Length - 2);
        double quantile = 1 - (0.5 * (1 - _settings.ConfidenceFraction)), scatter = free == 0 ? 1 : Math.Max(1, deviance / free);
        double limit = best - (0.5 * scatter * (free == 0 ? ChiSquared.InvCDF(1, quantile) : FisherSnedecor.InvCDF(1, free, quantile)));
        FittedNumber radius = Interval(at, 0, RadiusSteps, 0.5, limit, ProfileOfRadius);
        FittedNumber merit = Interval(gain, -GainReach, GainReach, 0.25, limit, ProfileOfGain);
        double before = _transducer.LateFigureOfMeritDecibels;
        return new FieldFit(
            new FittedNumber(before + merit.Value, before + merit.Low, before + merit.High, merit.IsDecided),
            new FittedNumber(RadiusAt(radius.Value), RadiusAt(radius.Low), RadiusAt(radius.High), radius.IsDecided),
            deviance, free, free == 0 ? 1 : 1 - ChiSquared.CDF(free, deviance), _rows.Length, _rows.Sum(r => r.Trials));
    }

    private double RadiusAt(double at) => Math.Exp(_firstLog + (at * _stepLog));

    private static double Saturated(FieldObservation row)
    {
        double share = (double)row.Reports / row.Trials;
        return (row.Reports > 0 ? row.Reports * Math.Log(share) : 0) + (row.Reports < row.Trials ? (row.Trials - row.Reports) * Math.Log(1 - share) : 0);
    }

    // Margins run straight between the radii that were computed.
    private double LogLikelihood(double gain, double at)
    {
        int i = Math.Clamp((int)at, 0, RadiusSteps - 1);
        double share = at - i, sum = 0;
        double[] low = _margins[i], high = _margins[i + 1];
        for (int r = 0; r < _rows.Length; r++)
        {
            sum += _tables[r].LogLikelihood(low[r] + (share * (high[r] - low[r])) + gain, _rows[r].Reports, _rows[r].Trials);
        }

        return sum;
    }

    private double ProfileOfRadius(double at)
    {
        BestGain(at, out double best);
        return best;
    }

    private double BestGain(double at, out double best) => Peak(-GainReach, GainReach, 50, gain => LogLikelihood(gain, at), out best);

    private double ProfileOfGain(double gain)
    {
        Peak(0, RadiusSteps, RadiusSteps, at => LogLikelihood(gain, at), out double best);
        return best;
    }

    // The highest of even steps, then closer about it.
    private static double Peak(double from, double to, int steps, Func<double, double> height, out double best)
    {
        double step = (to - from) / steps, at = from;
        best = double.NegativeInfinity;
        for (int i = 0; i <= steps; i++)
        {
            double here = height(from + (i * step));
            (best, at) = here > best ? (here, from + (i * step)) : (best, at);
        }

        double low = Math.Max(from, at - step), high = Math.Min(to, at + step);
        for (int i = 0; i < 22; i++)
        {
            double third = (high - low) / 3;
            (low, high) = height(low + third) < height(high - third) ? (low + third, high) : (low, high - third);
        }

        double middle = 0.5 * (low + high), peak = height(middle);
        (best, at) = peak > best ? (peak, middle) : (best, at);
        return at;
    }

    // From the peak outward to where the profile has fallen to the limit; the end of the range where it never does.
    private static FittedNumber Interval(double at, double from, double to, double step, double limit, Func<double, double> profile)
    {
        double low = Edge(-step, from, out bool lowFound), high = Edge(step, to, out bool highFound);
        return new FittedNumber(at, low, high, lowFound && highFound);

        double Edge(double by, double end, out bool found)
        {
            double inside = at;
            found = false;
            while (!found)
            {
                double next = by < 0 ? Math.Max(end, inside + by) : Math.Min(end, inside + by);
                found = profile(next) < limit;
                if (!found)
                {
                    if (next == end)
                    {
                        return end;
                    }

                    inside = next;
                    continue;
                }

                double outside = next;
                for (int i = 0; i < 14; i++)
                {
                    double middle = 0.5 * (inside + outside);
                    (inside, outside) = profile(middle) < limit ? (inside, middle) : (middle, outside);
                }

                return outside;
            }

            return end;
        }
    }
}
