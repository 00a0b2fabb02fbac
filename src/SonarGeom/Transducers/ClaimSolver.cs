using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Quantities;

namespace SonarGeom.Transducers;

/// <summary>Finds the piston radius and the figure of merit that a set of detection claims implies, by least squares.</summary>
/// <remarks>
/// <para>A claim says that at its range and angle the echo just reaches the threshold:
/// <c>FOM + 2·20·log₁₀|D(θ)| = 40·log₁₀ R + 2·α·R − 20·log₁₀|f(R)|</c>, with the same piston sending and listening.</para>
/// <para>The threshold is taken as the same at all times and the tone as continuous. On a part whose threshold falls with time,
/// near and far claims will disagree, and the residuals show it.</para>
/// </remarks>
public static class ClaimSolver
{
    /// <summary>The tolerance used when none is given: small modules of one kind differ by about this much. [dB]</summary>
    public const double DefaultToleranceDecibels = 3;

    // Air that is not stated: 0.5 to 1.5 dB/m at 40 kHz spans cold dry to warm moist air, about 1.32 at 20 °C and 50 %.
    private const double LeastAbsorptionShare = 0.5 / 1.318;
    private const double MostAbsorptionShare = 1.5 / 1.318;

    private const double SmallestRadiusMetres = 1e-4;
    private const double LargestRadiusMetres = 0.25;
    private const int ScanSteps = 600;

    /// <summary>Returns what the claims say together.</summary>
    /// <param name="claims">At least one claim. Two at different angles decide the beam; more show how well they agree.</param>
    /// <param name="frequency">The frequency of the transducer.</param>
    /// <param name="toleranceDecibels">The largest residual that still counts as agreement, 0.1 to 20. [dB]</param>
    /// <exception cref="ArgumentException">There are no claims.</exception>
    /// <exception cref="ArgumentOutOfRangeException">The tolerance is outside its range.</exception>
    public static ClaimSolution Solve(
        IReadOnlyList<DetectionClaim> claims, Frequency frequency, double toleranceDecibels = DefaultToleranceDecibels)
    {
        ArgumentNullException.ThrowIfNull(claims);
        Finite.Within(toleranceDecibels, 0.1, 20, nameof(toleranceDecibels), "dB");
        if (claims.Count == 0)
        {
            throw new ArgumentException("At least one detection claim is needed.", nameof(claims));
        }

        Equation[] nominal = EquationsOf(claims, frequency, Absorption.Nominal);
        Fit fit = FitTo(nominal);
        Fit low = FitTo(EquationsOf(claims, frequency, Absorption.Least));
        Fit high = FitTo(EquationsOf(claims, frequency, Absorption.Most));

        ImmutableArray<ClaimResidual> residuals =
        [
            .. claims.Select((claim, i) =>
            {
                double residual = fit.ResidualOf(nominal[i]);
                return new ClaimResidual(claim, residual, Math.Abs(residual) > toleranceDecibels);
            }),
        ];
        return new ClaimSolution(
            frequency,
            toleranceDecibels,
            fit.RadiusMetres,
            Least(low.RadiusMetres, fit.RadiusMetres, high.RadiusMetres),
            -Least(-low.RadiusMetres, -fit.RadiusMetres, -high.RadiusMetres),
            fit.FigureOfMeritDecibels,
            Math.Min(fit.FigureOfMeritDecibels, Math.Min(low.FigureOfMeritDecibels, high.FigureOfMeritDecibels)),
            Math.Max(fit.FigureOfMeritDecibels, Math.Max(low.FigureOfMeritDecibels, high.FigureOfMeritDecibels)),
            residuals,
            ContradictionsAmong(residuals, nominal, toleranceDecibels),
            NotesOn(claims, fit, nominal));
    }

    /// <summary>The air of a claim, or 20 °C and 50 % where it does not say.</summary>
    internal static AirProperties PropertiesOf(DetectionClaim claim, Frequency frequency) =>
        AirProperties.Of(claim.Air ?? AirState.Standard, frequency);

    private static double? Least(double? a, double? b, double? c) =>
        a is { } x && b is { } y && c is { } z ? Math.Min(x, Math.Min(y, z)) : null;

    private static Equation[] EquationsOf(IReadOnlyList<DetectionClaim> claims, Frequency frequency, Absorption absorption)
    {
        var equations = new Equation[claims.Count];
        for (int i = 0; i < equations.Length; i++)
        {
            DetectionClaim claim = claims[i];
            AirProperties air = PropertiesOf(claim, frequency);
            double share = (absorption, claim.Air) switch
            {
                (Absorption.Least, null) => LeastAbsorptionShare,
                (Absorption.Most, null) => MostAbsorptionShare,
                (Absorption.Least, _) => 1 - AirAbsorption.WorkingUncertaintyFraction,
                (Absorption.Most, _) => 1 + AirAbsorption.WorkingUncertaintyFraction,
                _ => 1,
            };
            double wavenumber = air.WavenumberRadiansPerMetre;
            equations[i] = new Equation(
                wavenumber * Math.Sin(Math.Abs(claim.OffAxis.Radians)),
                claim.Target.TwoWayLossDecibels(claim.RangeMetres, wavenumber, share * air.AbsorptionDecibelsPerMetre));
        }

        return equations;
    }

    /// <summary>Least squares: for a given radius the best figure of merit is a mean, so that only the radius is searched for.</summary>
    private static Fit FitTo(ReadOnlySpan<Equation> equations)
    {
        double widest = 0;
        double narrowest = double.MaxValue;
        foreach (Equation equation in equations)
        {
            widest = Math.Max(widest, equation.PhasePerMetre);
            narrowest = Math.Min(narrowest, equation.PhasePerMetre);
        }

        if (widest - narrowest < 1e-6 * widest || widest == 0)
        {
            // One angle only: on the boresight the beam does not matter, elsewhere it stays inside the figure of merit.
            return FitAt(equations, null);
        }

        // Every claim lies inside the main lobe, whose level falls without end towards its edge.
        double largest = Math.Min(LargestRadiusMetres, PistonPattern.FirstZeroRadians / widest);
        double step = (largest - SmallestRadiusMetres) / ScanSteps;
        int best = 0;
        double least = double.MaxValue;
        for (int i = 0; i < ScanSteps; i++)
        {
            double squares = FitAt(equations, SmallestRadiusMetres + (i * step)).SumOfSquares;
            if (squares < least)
            {
                (best, least) = (i, squares);
            }
        }

        // Golden section between the neighbours of the best step.
        const double golden = 0.6180339887498949;
        double low = SmallestRadiusMetres + (Math.Max(best - 1, 0) * step);
        double high = Math.Min(SmallestRadiusMetres + ((best + 1) * step), largest * (1 - 1e-9));
        for (int i = 0; i < 80; i++)
        {
            double first = high - (golden * (high - low));
            double second = low + (golden * (high - low));
            if (FitAt(equations, first).SumOfSquares <= FitAt(equations, second).SumOfSquares)
            {
                high = second;
            }
            else
            {
                low = first;
            }
        }

        return FitAt(equations, 0.5 * (low + high));
    }

    private static Fit FitAt(ReadOnlySpan<Equation> equations, double? radiusMetres)
    {
        double sum = 0;
        foreach (Equation equation in equations)
        {
            sum += equation.LossDecibels - TwoWayBeamDecibels(equation, radiusMetres);
        }

        var fit = new Fit(radiusMetres, sum / equations.Length, 0);
        double squares = 0;
        foreach (Equation equation in equations)
        {
            double residual = fit.ResidualOf(equation);
            squares += residual * residual;
        }

        return fit with { SumOfSquares = squares };
    }

    private static double TwoWayBeamDecibels(Equation equation, double? radiusMetres) =>
        radiusMetres is { } radius
            ? 2 * Decibels.FromAmplitudeRatio(PistonPattern.Evaluate(radius * equation.PhasePerMetre))
            : 0;

    private static ImmutableArray<string> ContradictionsAmong(
        ImmutableArray<ClaimResidual> residuals, Equation[] equations, double toleranceDecibels)
    {
        ImmutableArray<string>.Builder sentences = ImmutableArray.CreateBuilder<string>();
        foreach (ClaimResidual residual in residuals.Where(residual => residual.Contradicts))
        {
            string sense = residual.ResidualDecibels < 0 ? "falls short of it" : "exceeds it";
            sentences.Add($"{Capitalised(residual.Claim.Description)}: the best fit {sense} by "
                + $"{Math.Abs(residual.ResidualDecibels):0.0} dB, more than {toleranceDecibels:0.##} dB.");
        }

        if (sentences.Count > 0 && equations.Length > 2)
        {
            for (int i = 0; i < equations.Length; i++)
            {
                Equation[] others = [.. equations.Where((_, j) => j != i)];
                Fit fit = FitTo(others);
                if (others.All(equation => Math.Abs(fit.ResidualOf(equation)) <= toleranceDecibels))
                {
                    sentences.Add($"Without \"{residuals[i].Claim.Description}\" the other claims agree.");
                }
            }
        }

        return sentences.ToImmutable();
    }

    private static ImmutableArray<string> NotesOn(IReadOnlyList<DetectionClaim> claims, Fit fit, Equation[] equations)
    {
        ImmutableArray<string>.Builder notes = ImmutableArray.CreateBuilder<string>();
        int unstated = claims.Count(claim => claim.Air is null);
        notes.Add(unstated == 0
            ? "The air of every claim is stated; its absorption is taken as known to ±25 %."
            : $"{unstated} of {claims.Count} claims do not state the air: {AirState.Standard} is assumed, the bands span 0.38 to "
                + "1.14 times its absorption (0.5 to 1.5 dB/m at 40 kHz).");
        notes.Add("Targets are rigid, square on and alone; the threshold is the same at every range; the tone is continuous.");
        if (fit.RadiusMetres is not { } radius)
        {
            notes.Add(equations[0].PhasePerMetre == 0
                ? "All claims are on the boresight: they say nothing about the beam."
                : "All claims are at one angle off the boresight: the figure of merit is what is left at that angle, and the beam "
                    + "is not decided.");
        }
        else if (radius < 2 * SmallestRadiusMetres)
        {
            notes.Add("The claims off the boresight are as strong as those on it: the beam is wider than any piston's.");
        }
        else if (claims.Count == 2)
        {
            notes.Add("Two claims decide radius and figure of merit exactly: nothing checks them.");
        }

        return notes.ToImmutable();
    }

    private static string Capitalised(string text) => char.ToUpperInvariant(text[0]) + text[1..];

    private enum Absorption
    {
        Nominal,
        Least,
        Most,
    }

    /// <summary>k·sin θ, and the two-way loss on the boresight.</summary>
    private readonly record struct Equation(double PhasePerMetre, double LossDecibels);

    private readonly record struct Fit(double? RadiusMetres, double FigureOfMeritDecibels, double SumOfSquares)
    {
        internal double ResidualOf(Equation equation) =>
            FigureOfMeritDecibels + TwoWayBeamDecibels(equation, RadiusMetres) - equation.LossDecibels;
    }
}
