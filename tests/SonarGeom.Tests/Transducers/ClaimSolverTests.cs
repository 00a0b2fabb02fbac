using SonarGeom.Air;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Transducers;

public class ClaimSolverTests
{
    private static readonly Frequency Forty = Frequency.FromKilohertz(40);
    private static readonly AirProperties Air = AirProperties.Of(AirState.Standard, Forty);

    private static readonly ClaimTarget[] Targets =
    [
        new WallTarget(), new PoleTarget(0.075, 2), new PoleTarget(0.025, 0.3), new SphereTarget(0.1), new DiscTarget(0.1),
        new PlateTarget(0.3, 0.2),
    ];

    [Fact]
    public void Claims_made_by_a_known_transducer_give_it_back()
    {
        int tried = 0;
        for (int index = 0; index < 200; index++)
        {
            var random = new Random(index);
            double radius = 0.003 + (0.009 * random.NextDouble());
            double merit = 25 + (25 * random.NextDouble());
            double degrees = 6 + (16 * random.NextDouble());
            ClaimTarget first = Targets[random.Next(4)];
            ClaimTarget second = Targets[random.Next(4)];
            double edge = Air.WavenumberRadiansPerMetre * radius * Math.Sin(degrees * Math.PI / 180);
            double beam = 2 * Decibels.FromAmplitudeRatio(PistonPattern.Evaluate(edge));
            if (beam < -20)
            {
                continue;
            }

            tried++;
            ClaimSolution solution = ClaimSolver.Solve(
                [Claim(first, merit, 0), Claim(second, merit + beam, degrees)], Forty);
            double solvedBeam = 2 * Decibels.FromAmplitudeRatio(
                PistonPattern.Evaluate(solution.EffectiveRadiusMetres!.Value * edge / radius));
            Assert.True(Math.Abs(solution.FigureOfMeritDecibels - merit) < 1e-6, $"index {index}");
            Assert.True(Math.Abs(solvedBeam - beam) < 1e-5, $"index {index}: {solvedBeam} for {beam} dB");
            Assert.True(solution.IsConsistent, $"index {index}");
            Assert.InRange(merit, solution.LeastFigureOfMeritDecibels - 1e-6, solution.MostFigureOfMeritDecibels + 1e-6);
            Assert.InRange(
                solution.EffectiveRadiusMetres.Value, solution.LeastRadiusMetres!.Value, solution.MostRadiusMetres!.Value);
        }

        Assert.True(tried > 150);
    }

    [Fact]
    public void The_sign_of_the_angle_does_not_matter()
    {
        DetectionClaim[] right = [Claim(Targets[1], 40, 0), Claim(Targets[1], 36, -15)];
        DetectionClaim[] left = [Claim(Targets[1], 40, 0), Claim(Targets[1], 36, 15)];
        Assert.Equal(
            ClaimSolver.Solve(right, Forty).EffectiveRadiusMetres, ClaimSolver.Solve(left, Forty).EffectiveRadiusMetres);
    }

    [Fact]
    public void Claims_that_contradict_one_another_give_residuals_and_no_transducer()
    {
        // A wall at 4 m needs 29 dB, a 75 mm pole at 4 m 49 dB: one part cannot just reach both.
        DetectionClaim[] claims =
        [
            new(new WallTarget(), 4, Angle.Zero, AirState.Standard), new(new PoleTarget(0.075, 2), 4, Angle.Zero, AirState.Standard),
        ];
        ClaimSolution solution = ClaimSolver.Solve(claims, Forty);
        Assert.False(solution.IsConsistent);
        Assert.Equal(2, solution.Contradictions.Length);
        Assert.All(solution.Residuals, residual => Assert.True(residual.Contradicts));
        Assert.Equal(0, solution.Residuals.Sum(residual => residual.ResidualDecibels), 1e-9);
        Assert.Throws<InvalidOperationException>(() => solution.ApplyTo(TransducerTests.Pair()));
    }

    [Fact]
    public void The_claim_that_does_not_fit_the_others_is_named()
    {
        DetectionClaim wrong = new(new SphereTarget(0.1), 6, Angle.Zero, AirState.Standard);
        ClaimSolution solution = ClaimSolver.Solve(
            [Claim(Targets[0], 40, 0), Claim(Targets[1], 40, 0), Claim(Targets[2], 40, 0), wrong], Forty);
        Assert.False(solution.IsConsistent);
        string named = Assert.Single(solution.Contradictions, sentence => sentence.StartsWith("Without", StringComparison.Ordinal));
        Assert.Contains(wrong.Description, named, StringComparison.Ordinal);
    }

    [Fact]
    public void Louder_off_the_boresight_than_on_it_is_a_contradiction()
    {
        ClaimSolution solution = ClaimSolver.Solve([Claim(Targets[1], 35, 0), Claim(Targets[1], 45, 20)], Forty);
        Assert.False(solution.IsConsistent);
        Assert.Contains(solution.Notes, note => note.Contains("wider than any piston", StringComparison.Ordinal));
    }

    [Fact]
    public void Claims_on_the_boresight_alone_leave_the_beam_open()
    {
        ClaimSolution solution = ClaimSolver.Solve([Claim(Targets[0], 28, 0), Claim(Targets[3], 28, 0)], Forty);
        Assert.Null(solution.EffectiveRadiusMetres);
        Assert.Equal(28, solution.FigureOfMeritDecibels, 1e-9);
        Transducer pair = TransducerTests.Pair();
        Transducer solved = solution.ApplyTo(pair);
        Assert.Equal(28, solved.LateFigureOfMeritDecibels, 1e-9);
        Assert.Same(pair.Transmit, solved.Transmit);
    }

    [Fact]
    public void Claims_at_one_angle_off_the_boresight_give_no_transducer()
    {
        ClaimSolution solution = ClaimSolver.Solve([Claim(Targets[1], 33, 15), Claim(Targets[0], 33, 15)], Forty);
        Assert.Null(solution.EffectiveRadiusMetres);
        Assert.Throws<InvalidOperationException>(() => solution.ApplyTo(TransducerTests.Pair()));
    }

    [Fact]
    public void A_solved_transducer_has_the_beam_and_the_figure_of_merit()
    {
        ClaimSolution solution = ClaimSolver.Solve([Claim(Targets[1], 34, 0), Claim(Targets[1], 30, 20)], Forty);
        Transducer solved = solution.ApplyTo(TransducerTests.Pair());
        Assert.Equal(34, solved.LateFigureOfMeritDecibels, 1e-6);
        Assert.Equal(
            -2, Decibels.FromAmplitudeRatio(solved.Receive.AmplitudeAt(Angle.FromDegrees(20), Air.WavenumberRadiansPerMetre)), 1e-5);
        Assert.Contains("75 mm", solved.Evidence.RangeTarget, StringComparison.Ordinal);
    }

    // Absorption of 0.5 to 1.5 dB/m moves the figure of merit implied by 4 m by 8 dB.
    [Fact]
    public void Air_that_is_not_stated_widens_the_band()
    {
        ClaimSolution unstated = ClaimSolver.Solve([new(new WallTarget(), 4, Angle.Zero)], Forty);
        Assert.Equal(8, unstated.MostFigureOfMeritDecibels - unstated.LeastFigureOfMeritDecibels, 0.02);
        ClaimSolution stated = ClaimSolver.Solve([new(new WallTarget(), 4, Angle.Zero, AirState.Standard)], Forty);
        Assert.Equal(
            2 * 8 * 0.25 * Air.AbsorptionDecibelsPerMetre,
            stated.MostFigureOfMeritDecibels - stated.LeastFigureOfMeritDecibels,
            1e-9);
        Assert.Contains(unstated.Notes, note => note.Contains("do not state the air", StringComparison.Ordinal));
    }

    [Fact]
    public void A_claim_outside_the_listening_time_is_refused()
    {
        ClaimSolution solution = ClaimSolver.Solve([new(new WallTarget(), 6, Angle.Zero, AirState.Standard)], Forty);
        Assert.Throws<ArgumentException>(() => solution.ApplyTo(TransducerTests.Pair()));
    }

    [Fact]
    public void Impossible_claims_are_refused()
    {
        Assert.Throws<ArgumentException>(() => ClaimSolver.Solve([], Forty));
        Assert.Throws<ArgumentOutOfRangeException>(() => ClaimSolver.Solve([Claim(Targets[0], 30, 0)], Forty, 0));
        Assert.Throws<ArgumentOutOfRangeException>(() => new DetectionClaim(Targets[0], 0, Angle.Zero));
        Assert.Throws<ArgumentOutOfRangeException>(() => new DetectionClaim(Targets[0], 1, Angle.FromDegrees(86)));
        Assert.Throws<ArgumentOutOfRangeException>(() => new PoleTarget(0, 1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new PlateTarget(0.1, double.NaN));
    }

    [Fact]
    public void A_large_disc_swings_about_a_wall_and_a_large_plate_is_one()
    {
        double k = Air.WavenumberRadiansPerMetre;
        double wall = new WallTarget().ReflectionLengthMetres(2, k);
        double zone = 2 * Math.Sqrt(Air.WavelengthMetres * 2 / 2);
        Assert.InRange(new DiscTarget(zone).ReflectionLengthMetres(2, k) / wall, 1.97, 2.0);
        Assert.InRange(new PlateTarget(18, 18).ReflectionLengthMetres(2, k) / wall, 0.98, 1.02);
        Assert.InRange(
            new PoleTarget(0.075, 18).ReflectionLengthMetres(2, k) / (1.0 * Math.Sqrt(0.0375 / 2.0375)), 0.98, 1.02);
    }

    // Far away a small plate, disc and pole follow their far-field target strengths A/λ, πb²/λ and L·√(a/2λ).
    [Fact]
    public void Small_targets_far_away_follow_the_far_field()
    {
        double k = Air.WavenumberRadiansPerMetre;
        double wavelength = Air.WavelengthMetres;
        Assert.Equal(0.04 * 0.03 / wavelength, new PlateTarget(0.04, 0.03).ReflectionLengthMetres(40, k), 1e-4);
        Assert.Equal(Math.PI * 0.02 * 0.02 / wavelength, new DiscTarget(0.04).ReflectionLengthMetres(40, k), 1e-4);
        Assert.Equal(
            0.05 * Math.Sqrt(0.01 / (2 * wavelength)), new PoleTarget(0.02, 0.05).ReflectionLengthMetres(40, k), 1e-4);
    }

    private static DetectionClaim Claim(ClaimTarget target, double levelDecibels, double degrees) =>
        new(
            target,
            target.LargestRangeMetres(levelDecibels, Air.WavenumberRadiansPerMetre, Air.AbsorptionDecibelsPerMetre),
            Angle.FromDegrees(degrees),
            AirState.Standard);
}
