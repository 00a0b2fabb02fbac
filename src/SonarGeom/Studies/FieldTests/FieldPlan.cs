using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Studies.FieldTests;

/// <summary>One row of a field test: a target at a place, how often it is tried, and what is expected.</summary>
/// <param name="Id">Number of the row, from 1.</param>
/// <param name="Position">Where the target stands.</param>
/// <param name="Echo">What is expected of its echo.</param>
/// <param name="Trials">How often it is placed anew and tried.</param>
/// <param name="PredictedProbability">The predicted chance of a report. [unitless]</param>
/// <param name="Band">Where that chance lies within the uncertainty of the margin.</param>
/// <param name="LeastReports">The fewest reports that agree with the band.</param>
/// <param name="MostReports">The most.</param>
/// <param name="Purpose">What the row is for.</param>
public sealed record FieldRow(
    int Id, FieldPosition Position, FieldEcho Echo, int Trials, double PredictedProbability, ExactInterval Band, int LeastReports, int MostReports, string Purpose);

/// <summary>A field test of one transducer on a stand.</summary>
/// <param name="Transducer">The transducer.</param>
/// <param name="Settings">How the test is done.</param>
/// <param name="Rows">The rows.</param>
public sealed record FieldPlan(Transducer Transducer, FieldSettings Settings, ImmutableArray<FieldRow> Rows)
{
    private const double MarginStep = 3;

    private static readonly FieldTarget Pole = new(FieldTargetKind.Pole, 0.075, 2);
    private static readonly FieldTarget Rod = new(FieldTargetKind.Pole, 0.025, 2);
    private static readonly FieldTarget Ball = new(FieldTargetKind.Sphere, 0.1, 0.1);
    private static readonly FieldTarget Board = new(FieldTargetKind.Board, 0.3, 0.3);

    /// <summary>Gets what to bear in mind when the test is done.</summary>
    public static ImmutableArray<string> Instructions { get; } =
    [
        "Put the sensor on a stand, its boresight level and at least 1.3 m above the floor, with nothing but the target within twice the range to all sides, on grass or gravel if you can. Nobody wears the device, and nobody stands in the beam.",
        "Measure the air temperature and humidity, and write them on the sheet. A change of 5 °C is a new sheet.",
        "Measure the range from the middle of the sensor to the nearest point of the target, to the middle of a board; the angle from the boresight, positive to the left as the sensor looks. A board faces the sensor unless a turn is stated.",
        "For each trial take the target away, put it back, and wait for one alert window. Count a trial as reported only if the target's own range is reported within 10 cm.",
        "Do every trial that is planned, in any order. A row that had to be left out or went wrong stays on the sheet: mark it excluded and say why. It is shown in the result.",
        "Watch for the exposure limits of the part before anybody puts an ear near it; keep dogs away.",
    ];

    /// <summary>Plans a test.</summary>
    /// <param name="transducer">The transducer.</param>
    /// <param name="settings">How the test is done.</param>
    /// <param name="reliabilityProbability">What a position that should always report is to show, from 0.5 to 0.99. [unitless]</param>
    /// <param name="halfWidthProbability">How closely a position near the limit is to be known, from 0.05 to 0.4. [unitless]</param>
    /// <exception cref="ArgumentException">No target can be detected anywhere.</exception>
    public static FieldPlan Of(Transducer transducer, FieldSettings settings, double reliabilityProbability = 0.9, double halfWidthProbability = 0.2)
    {
        ArgumentNullException.ThrowIfNull(transducer);
        ArgumentNullException.ThrowIfNull(settings);
        Finite.Within(reliabilityProbability, 0.5, 0.99, nameof(reliabilityProbability), "(no unit)");
        Finite.Within(halfWidthProbability, 0.05, 0.4, nameof(halfWidthProbability), "(no unit)");
        var prepared = new PreparedTransducer(transducer, new EchoMedium(settings.Air));
        (FieldPosition Position, string Purpose)[] places = [.. Places(prepared)];
        if (places.Length == 0)
        {
            throw new ArgumentException($"{transducer.Name} hears no target of the test anywhere in air of {settings.Air}; there is nothing to plan.", nameof(transducer));
        }

        FieldEcho[] echoes = [.. places.Select(p => FieldModel.EchoOf(prepared, p.Position))];
        var model = new TrialModel(settings, echoes.Select(e => e.ClearanceDecibels));
        int sure = ExactInterval.TrialsWithoutMiss(reliabilityProbability, settings.ConfidenceFraction);
        int near = ExactInterval.TrialsForHalfWidthProbability(halfWidthProbability, settings.ConfidenceFraction);
        return new FieldPlan(
            transducer, settings,
            [.. places.Select((p, i) => Row(i + 1, p.Position, echoes[i], p.Purpose, Math.Abs(echoes[i].MarginDecibels) > 5 ? sure : near, model, settings))]);
    }

    internal static FieldRow Row(int id, FieldPosition position, FieldEcho echo, string purpose, int trials, TrialModel model, FieldSettings settings)
    {
        double Chance(double more) => model.Chance(echo.MarginDecibels + more, echo.ClearanceDecibels);
        double low = Chance(-echo.UncertaintyDecibels), high = Chance(echo.UncertaintyDecibels);
        return new FieldRow(
            id, position, echo, trials, Chance(0), new ExactInterval(low, high),
            ExactInterval.Counts(low, trials, settings.ConfidenceFraction).Least, ExactInterval.Counts(high, trials, settings.ConfidenceFraction).Most, purpose);
    }

    private static IEnumerable<(FieldPosition Position, string Purpose)> Places(PreparedTransducer prepared)
    {
        foreach (FieldTarget target in new[] { Pole, Rod, Ball })
        {
            double[] ranges = [.. new[] { 2 * MarginStep, MarginStep, 0, -MarginStep, -2 * MarginStep }.Select(m => FarthestMetres(prepared, target, m)).Where(r => r > 0).Distinct()];
            foreach (double range in ranges)
            {
                yield return (new FieldPosition(target, range, Angle.Zero, Angle.Zero), "level over threshold, on the boresight");
            }

            if (target == Rod || ranges.Length == 0)
            {
                continue;
            }

            // Well within reach, where the beam decides.
            double near = Math.Round(Math.Max(0.3, Math.Round(0.5 * FarthestMetres(prepared, target, 0) / 0.05) * 0.05), 2);
            foreach (double margin in new[] { 2 * MarginStep, MarginStep, 0, -MarginStep })
            {
                if (WidestDegrees(prepared, target, near, margin) is var degrees and > 2)
                {
                    yield return (new FieldPosition(target, near, Angle.FromDegrees(degrees), Angle.Zero), "beam, left");
                    yield return (new FieldPosition(target, near, Angle.FromDegrees(-degrees), Angle.Zero), "beam, right");
                }
            }
        }

        // Farther than 4 m a board cannot be squared by hand.
        double board = Math.Min(4, FarthestMetres(prepared, Board, 2 * MarginStep));
        if (board > 0)
        {
            yield return (new FieldPosition(Board, board, Angle.Zero, Angle.Zero), "flat target, square on");
            yield return (new FieldPosition(Board, Math.Min(board, 1.5), Angle.Zero, Angle.FromDegrees(30)), "flat target, turned: expected to be missed");
        }
    }

    // The farthest range, in steps of 5 cm, at which the margin is still reached; 0 when it is reached nowhere, or at the end of the window.
    private static double FarthestMetres(PreparedTransducer prepared, FieldTarget target, double margin)
    {
        int last = (int)Math.Floor(prepared.WindowRangeMetres / 0.05) - 2;
        for (int step = last; step >= 6 && step * 0.05 > prepared.DeadZoneMetres + 0.1; step--)
        {
            double range = Math.Round(step * 0.05, 2);
            if (FieldModel.EchoOf(prepared, new FieldPosition(target, range, Angle.Zero, Angle.Zero)).MarginDecibels >= margin)
            {
                return step == last ? 0 : range;
            }
        }

        return 0;
    }

    // The widest angle in whole degrees at which the margin is still reached; 0 when it is reached nowhere or everywhere.
    private static double WidestDegrees(PreparedTransducer prepared, FieldTarget target, double range, double margin)
    {
        for (int degrees = 1; degrees <= 75; degrees++)
        {
            if (FieldModel.EchoOf(prepared, new FieldPosition(target, range, Angle.FromDegrees(degrees), Angle.Zero)).MarginDecibels < margin)
            {
                return degrees - 1;
            }
        }

        return 0;
    }
}
