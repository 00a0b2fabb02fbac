using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes;

/// <summary>How large a beam is and how fast it changes, within <see cref="BeamBends.LargestTurnRadians"/> of a direction.</summary>
/// <param name="Near">Largest amplitude. [unitless]</param>
/// <param name="Steepest">Steepest slope. [1/rad]</param>
/// <param name="Bend">Largest ‖Hess B‖. [1/rad²]</param>
internal readonly record struct BeamFacts(float Near, float Steepest, float Bend);

/// <summary>
/// How large a beam is, and how fast it and its slope change: the largest over the frequencies of a burst. For beams that are the
/// same all round.
/// </summary>
/// <remarks>
/// Let B(θ) be the amplitude towards a direction θ off boresight. On the sphere <c>‖Hess B‖ = max(|B″|, |B′·cot θ|)</c>. Slopes and
/// bends are taken on steps of 0.05° by differences of the very table that echoes are computed from, with 5 % and the neighbouring
/// steps added; where its cubics meet, their slopes differ by so little that the differences hold it.
/// </remarks>
internal sealed class BeamBends
{
    /// <summary>Turns up to this are bounded. [rad]</summary>
    internal const double LargestTurnRadians = 3 * Math.PI / 180;

    private const int StepsPerBin = 10;
    private const int Bins = 360;
    private const int Count = Bins * StepsPerBin;
    private const double StepRadians = Math.PI / Count;
    private const double Allowance = 1.05;

    // Error of Angle, and of the rounding of the turn itself.
    private const double AngleErrorRadians = 2e-4;

    private readonly BeamFacts[] _facts = new BeamFacts[Bins];
    private readonly BeamFacts[] _wide = new BeamFacts[Bins];

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
        const int Wide = (int)((LargestTurnRadians + FaceMove.PanelRadians + AngleErrorRadians) / StepRadians) + 2;
        for (int bin = 0; bin < Bins; bin++)
        {
            int from = bin * StepsPerBin;
            _facts[bin] = MostOf(steps, from - Reach, from + StepsPerBin + Reach);
            _wide[bin] = MostOf(steps, from - Wide, from + StepsPerBin + Wide);
        }
    }

    /// <summary>Returns the facts about a direction.</summary>
    /// <param name="angleRadians">Its angle off boresight as <see cref="Angle"/> tells it. [rad]</param>
    internal ref readonly BeamFacts At(double angleRadians) => ref _facts[Math.Clamp((int)(angleRadians * (Bins / Math.PI)), 0, Bins - 1)];

    /// <summary>Returns the same within <see cref="FaceMove.PanelRadians"/> more.</summary>
    internal ref readonly BeamFacts WideAt(double angleRadians) => ref _wide[Math.Clamp((int)(angleRadians * (Bins / Math.PI)), 0, Bins - 1)];

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
        BeamFacts most = default;
        for (int i = Math.Max(0, from); i <= Math.Min(Count, to); i++)
        {
            most = new BeamFacts(Math.Max(most.Near, steps[i].Near), Math.Max(most.Steepest, steps[i].Steepest), Math.Max(most.Bend, steps[i].Bend));
        }

        return most;
    }

    private static BeamFacts Step(Vector512<double> before, Vector512<double> here, Vector512<double> after, double angle)
    {
        double largest = 0, steepest = 0, bend = 0;
        double sine = Math.Sin(angle);
        for (int lane = 0; lane < LaneBlock.Lanes; lane++)
        {
            (double a, double b, double c) = (before[lane], here[lane], after[lane]);
            largest = Math.Max(largest, Math.Abs(b));
            double first = Math.Max(Math.Abs(c - b), Math.Abs(b - a)) / StepRadians;
            double second = Math.Abs(a - b + (c - b)) / (StepRadians * StepRadians);
            double around = sine > 1e-9 ? Math.Abs((c - a) * Math.Cos(angle)) / (2 * StepRadians * sine) : second;
            steepest = Math.Max(steepest, first);
            bend = Math.Max(bend, Math.Max(second, around));
        }

        // The amplitude itself needs no more than the rounding to single precision and the half step between.
        return new BeamFacts((float)((1.0001 * largest) + (steepest * StepRadians)), (float)(Allowance * steepest), (float)(Allowance * bend));
    }
}
