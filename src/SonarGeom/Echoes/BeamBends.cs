using System.Runtime.Intrinsics;

namespace SonarGeom.Echoes;

/// <summary>How large a beam is and how fast it changes, within each of <see cref="BeamBends.TurnsRadians"/> of a direction.</summary>
/// <param name="Near">Largest amplitude. [unitless]</param>
/// <param name="Steepest">Steepest slope. [1/rad]</param>
/// <param name="Bend">Largest ‖Hess B‖. [1/rad²]</param>
/// <param name="Step">How far it may be off what goes on smoothly from the direction, where it ends in a step. [unitless]</param>
internal readonly record struct BeamFacts(Vector128<float> Near, Vector128<float> Steepest, Vector128<float> Bend, Vector128<float> Step);

/// <summary>
/// How large a beam is, and how fast it and its slope change: the largest over the frequencies of a burst. For beams that are the
/// same all round.
/// </summary>
/// <remarks>
/// Let B(θ) be the amplitude towards a direction θ off boresight. On the sphere <c>‖Hess B‖ = max(|B″|, |B′·cot θ|)</c>. Slopes and
/// bends are taken on steps of 0.05° by differences of the very table that echoes are computed from, with 5 % and the neighbouring
/// steps added; where its cubics meet, their slopes differ by so little that the differences hold it.
/// <para>A beam that has not faded at 90° ends there in a step, to nothing. Let it have the amplitude J and the slope s there, and let S be the beam in
/// front, carried on beyond with a second derivative of b, until its slope has gone: S is smooth, ‖Hess S‖ is at most b where b is no less than that of
/// the beam and 1.6·s, and beyond 90° it is at most J + s²/2b. Seen from a direction in front, the beam is S but for a step of at most J + 0.32·s; seen
/// from one behind, it is nought but for a step of its largest amplitude within the turn.</para>
/// </remarks>
internal sealed class BeamBends
{
    /// <summary>Turns that move the faces of a sensor are bounded up to this, the least of <see cref="TurnsRadians"/>. [rad]</summary>
    internal const double LeastTurnRadians = 3 * Math.PI / 180;

    /// <summary>The number of turns up to which bounds are known.</summary>
    internal const int Turns = 4;

    private const int StepsPerBin = 10;
    private const int Bins = 360;
    private const int Count = Bins * StepsPerBin;
    private const int Last = Count / 2;
    private const double JustInFront = 1e-12;
    private const double StepRadians = Math.PI / Count;
    private const double Allowance = 1.05;

    // Error of Angle, and of the rounding of the turn itself.
    private const double AngleErrorRadians = 2e-4;

    private readonly Facts _end;
    private readonly BeamFacts[] _facts = new BeamFacts[Bins];
    private readonly (float Near, float Steepest, float Step)[] _wide = new (float, float, float)[Bins];

    /// <summary>Measures a beam.</summary>
    /// <param name="table">The beam at the frequencies of a burst, the same all round.</param>
    internal BeamBends(DirectivityTable table)
    {
        var steps = new Facts[Count + 1];
        bool ends = !table.IsEven;
        Vector512<double> before = table.AtCosine(Math.Cos(-StepRadians)), here = table.AtCosine(1);
        for (int i = 0; i <= Count; i++)
        {
            // Differences do not reach across the end.
            bool isLast = ends && i == Last;
            Vector512<double> after = isLast ? here + here - before : table.AtCosine(i == Last - 1 ? JustInFront : Math.Cos((i + 1) * StepRadians));
            steps[i] = Step(before, here, after, i * StepRadians);
            (before, here) = isLast ? (default, default) : (here, after);
        }

        if (ends)
        {
            Facts end = steps[Last];
            _end = end with { Step = 1.001f * (end.Near + (0.32f * end.Steepest)), Bend = 1.6f * end.Steepest };
        }

        for (int bin = 0; bin < Bins; bin++)
        {
            Facts a = MostOf(steps, bin, TurnsRadians[0]), b = MostOf(steps, bin, TurnsRadians[1]), c = MostOf(steps, bin, TurnsRadians[2]), d = MostOf(steps, bin, TurnsRadians[3]);
            _facts[bin] = new BeamFacts(
                Vector128.Create(a.Near, b.Near, c.Near, d.Near), Vector128.Create(a.Steepest, b.Steepest, c.Steepest, d.Steepest),
                Vector128.Create(a.Bend, b.Bend, c.Bend, d.Bend), Vector128.Create(a.Step, b.Step, c.Step, d.Step));
            Facts wide = MostOf(steps, bin, LeastTurnRadians + FaceMove.PanelRadians);
            _wide[bin] = (wide.Near, wide.Steepest, wide.Step);
        }
    }

    /// <summary>Gets the turns up to which bounds are known, from the least to the largest. [rad]</summary>
    internal static ReadOnlySpan<double> TurnsRadians => [LeastTurnRadians, 8 * Math.PI / 180, 18 * Math.PI / 180, 40 * Math.PI / 180];

    /// <summary>Returns the facts about a direction.</summary>
    /// <param name="angleRadians">Its angle off boresight as <see cref="Angle"/> tells it. [rad]</param>
    internal ref readonly BeamFacts At(double angleRadians) => ref _facts[Math.Clamp((int)(angleRadians * (Bins / Math.PI)), 0, Bins - 1)];

    /// <summary>Returns amplitude, slope and step within <see cref="LeastTurnRadians"/> and <see cref="FaceMove.PanelRadians"/> more.</summary>
    internal ref readonly (float Near, float Steepest, float Step) WideAt(double angleRadians) => ref _wide[Math.Clamp((int)(angleRadians * (Bins / Math.PI)), 0, Bins - 1)];

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

    private Facts MostOf(Facts[] steps, int bin, double turnRadians)
    {
        const int Error = (int)(AngleErrorRadians / StepRadians) + 1;
        int reach = (int)((turnRadians + AngleErrorRadians) / StepRadians) + 2;
        int from = bin * StepsPerBin, to = from + StepsPerBin, first = Math.Max(0, from - reach), last = Math.Min(Count, to + reach);
        Facts most = default;
        for (int i = first; i <= last; i++)
        {
            most = new Facts(Math.Max(most.Near, steps[i].Near), Math.Max(most.Steepest, steps[i].Steepest), Math.Max(most.Bend, steps[i].Bend));
        }

        if (first > Last || last < Last)
        {
            return most;
        }

        // The direction itself may be in front, or behind, or either.
        float step = to + Error < Last ? _end.Step : Math.Max(_end.Step, most.Near);
        return most with { Bend = Math.Max(most.Bend, _end.Bend), Step = step };
    }

    private static Facts Step(Vector512<double> before, Vector512<double> here, Vector512<double> after, double angle)
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
        return new Facts((float)((1.0001 * largest) + (steepest * StepRadians)), (float)(Allowance * steepest), (float)(Allowance * bend));
    }

    private readonly record struct Facts(float Near, float Steepest, float Bend, float Step = 0);
}
