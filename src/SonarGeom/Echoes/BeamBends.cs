using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes;

/// <summary>What tells how fast a beam changes where it is looked up.</summary>
/// <param name="Here">Largest amplitude within a step of the direction. [unitless]</param>
/// <param name="Near">Largest amplitude within <see cref="BeamBends.LargestTurnRadians"/> of it. [unitless]</param>
/// <param name="Steepest">Steepest slope of the amplitude within the same. [1/rad]</param>
/// <param name="Bend">Largest ‖Hess ln|B|‖ from boresight to as far beyond it; +∞ where the beam has no logarithm. [1/rad²]</param>
/// <param name="Slope">Largest |∇ ln|B|| over the same; +∞ likewise. [1/rad]</param>
internal readonly record struct BeamFacts(float Here, float Near, float Steepest, float Bend, float Slope);

/// <summary>
/// How large a beam is, and how fast it and the slope of its logarithm change: the largest over the frequencies of a burst. For beams
/// that are the same all round.
/// </summary>
/// <remarks>
/// <para>Let B(θ) be the amplitude and L = ln|B|. Turned by δ, the ratio B′/B towards two directions φ apart differs by at most
/// <c>φ·δ·sup(‖Hess L‖ + |n·u|·|∇L|)</c> in the logarithm, n the axis of the turn: the ratio's own gradient is the change of ∇L along the
/// turn, pulled back, and a turn of unit speed changes a pulled-back field by its derivative along the way, ‖Hess L‖ at most, and by the
/// derivative of the turn's own field n × u, which is |n·u| in every direction. On the sphere <c>‖Hess L‖ = max(|L″|, |L′·cot θ|)</c>. The
/// suprema are taken from boresight outward: a cap round it holds the shortest way between any two of its directions.</para>
/// <para>They are taken on steps of 0.05° by differences, with 5 % and the neighbouring steps added; where a beam is below 3 % or
/// changes its sign it has no logarithm.</para>
/// </remarks>
internal sealed class BeamBends
{
    /// <summary>Turns up to this are bounded. [rad]</summary>
    internal const double LargestTurnRadians = 3 * Math.PI / 180;

    private const int StepsPerBin = 10;
    private const int Bins = 360;
    private const int Count = Bins * StepsPerBin;
    private const double StepRadians = Math.PI / Count;
    private const double FaintestAmplitude = 0.03;
    private const double Allowance = 1.05;

    // Error of Angle, and of the rounding of the turn itself.
    private const double AngleErrorRadians = 2e-4;

    private readonly BeamFacts[] _facts = new BeamFacts[Bins];

    /// <summary>Measures a beam.</summary>
    /// <param name="table">The beam at the frequencies of a burst, the same all round.</param>
    internal BeamBends(DirectivityTable table)
    {
        var steps = new BeamFacts[Count + 1];
        Vector512<double> before = table.AtCosine(Math.Cos(-StepRadians)), here = table.AtCosine(1);
        for (int i = 0; i <= Count; i++)
        {
            Vector512<double> after = table.AtCosine(Math.Cos((i + 1) * StepRadians));
            steps[i] = Step(before, here, after, i * StepRadians);
            (before, here) = (here, after);
        }

        const int Reach = (int)((LargestTurnRadians + AngleErrorRadians) / StepRadians) + 2;
        float bend = 0, slope = 0;
        int upTo = 0;
        for (int bin = 0; bin < Bins; bin++)
        {
            int from = bin * StepsPerBin, to = from + StepsPerBin;
            for (; upTo <= Math.Min(to + Reach, Count); upTo++)
            {
                (bend, slope) = (Math.Max(bend, steps[upTo].Bend), Math.Max(slope, steps[upTo].Slope));
            }

            BeamFacts most = MostOf(steps, from - Reach, to + Reach);
            _facts[bin] = new BeamFacts(MostOf(steps, from - 1, to + 1).Here, most.Here, most.Steepest, bend, slope);
        }
    }

    /// <summary>Returns the facts about a direction.</summary>
    /// <param name="angleRadians">Its angle off boresight as <see cref="Angle"/> tells it. [rad]</param>
    internal ref readonly BeamFacts At(double angleRadians) => ref _facts[Math.Clamp((int)(angleRadians * (Bins / Math.PI)), 0, Bins - 1)];

    /// <summary>Returns angles from their cosines, in error by at most 6.7e-5 (Abramowitz and Stegun 4.4.45).</summary>
    internal static Vector512<double> Angles(Vector512<double> cosines)
    {
        Vector512<double> x = Vector512.Min(Vector512.Abs(cosines), Vector512<double>.One);
        Vector512<double> series = Vector512.FusedMultiplyAdd(x, Vector512.Create(-0.0187293), Vector512.Create(0.0742610));
        series = Vector512.FusedMultiplyAdd(series, x, Vector512.Create(-0.2121144));
        series = Vector512.FusedMultiplyAdd(series, x, Vector512.Create(1.5707288));
        Vector512<double> angle = Vector512.Sqrt(Vector512<double>.One - x) * series;
        return Vector512.ConditionalSelect(Vector512.GreaterThanOrEqual(cosines, Vector512<double>.Zero), angle, Vector512.Create(Math.PI) - angle);
    }

    /// <summary>The same of one.</summary>
    internal static double Angle(double cosine)
    {
        double x = Math.Min(Math.Abs(cosine), 1);
        double angle = Math.Sqrt(1 - x) * (1.5707288 + (x * (-0.2121144 + (x * (0.0742610 - (x * 0.0187293))))));
        return cosine >= 0 ? angle : Math.PI - angle;
    }

    private static BeamFacts MostOf(BeamFacts[] steps, int from, int to)
    {
        float here = 0, steepest = 0;
        for (int i = Math.Max(0, from); i <= Math.Min(Count, to); i++)
        {
            (here, steepest) = (Math.Max(here, steps[i].Here), Math.Max(steepest, steps[i].Steepest));
        }

        return new BeamFacts(here, here, steepest, 0, 0);
    }

    private static BeamFacts Step(Vector512<double> before, Vector512<double> here, Vector512<double> after, double angle)
    {
        double largest = 0, steepest = 0, bend = 0, slope = 0;
        for (int lane = 0; lane < LaneBlock.Lanes; lane++)
        {
            (double a, double b, double c) = (before[lane], here[lane], after[lane]);
            largest = Math.Max(largest, Math.Abs(b));
            steepest = Math.Max(steepest, Math.Max(Math.Abs(c - b), Math.Abs(b - a)) / StepRadians);
            bool hasLogarithm = Math.Min(Math.Abs(a), Math.Min(Math.Abs(b), Math.Abs(c))) >= FaintestAmplitude && a > 0 == b > 0 && c > 0 == b > 0;
            if (!hasLogarithm)
            {
                bend = slope = double.PositiveInfinity;
                continue;
            }

            double second = Math.Abs(Math.Log(a * c / (b * b))) / (StepRadians * StepRadians);
            double first = Math.Abs(Math.Log(c / a)) / (2 * StepRadians);
            double sine = Math.Sin(angle);
            bend = Math.Max(bend, Math.Max(second, sine > 1e-9 ? first * Math.Abs(Math.Cos(angle)) / sine : second));
            slope = Math.Max(slope, first);
        }

        // The amplitude itself needs no more than the rounding to single precision and the half step between.
        return new BeamFacts(
            (float)((1.0001 * largest) + (steepest * StepRadians)), 0, (float)(Allowance * steepest), (float)(Allowance * bend), (float)(Allowance * slope));
    }
}
