using SonarGeom.Air;
using SonarGeom.Files;
using SonarGeom.Quantities;
using SonarGeom.Studies.FieldTests;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Studies.FieldTests;

public class FieldPlanTests
{
    private static readonly Transducer Part = InputFiles.ReadTransducer("heron-strong-40").Transducer;

    private static readonly Lazy<FieldPlan> Plan = new(() => FieldPlan.Of(Part, new FieldSettings(AirState.Standard)));

    [Fact]
    public void Positions_lie_on_both_sides_of_the_limit_and_of_the_boresight()
    {
        FieldRow[] poles = [.. Plan.Value.Rows.Where(r => r.Position.Target.Kind == FieldTargetKind.Pole && r.Position.OffAxis == Angle.Zero)];
        Assert.Contains(poles, r => r.Echo.MarginDecibels > 5);
        Assert.Contains(poles, r => r.Echo.MarginDecibels < -5);
        Assert.Contains(poles, r => Math.Abs(r.Echo.MarginDecibels) < 1);
        FieldRow[] left = [.. Plan.Value.Rows.Where(r => r.Position.OffAxis > Angle.Zero)];
        FieldRow[] right = [.. Plan.Value.Rows.Where(r => r.Position.OffAxis < Angle.Zero)];
        Assert.Equal(left.Select(r => (r.Position.Target, r.Position.RangeMetres, r.Position.OffAxis.Degrees)), right.Select(r => (r.Position.Target, r.Position.RangeMetres, -r.Position.OffAxis.Degrees)));
        Assert.All(left.Zip(right), p => Assert.Equal(p.First.Echo.MarginDecibels, p.Second.Echo.MarginDecibels, 0.3));
        Assert.Contains(Plan.Value.Rows, r => r.Position.Turn.Degrees > 29 && r.PredictedProbability < 0.1);
    }

    // The strong part hears the 75 mm pole to 3.3 m at 20 °C and 50 %: its own statement.
    [Fact]
    public void The_limit_is_where_the_part_says() =>
        Assert.Equal(3.3, Plan.Value.Rows.Where(r => r.Position.Target.WidthMetres == 0.075 && r.Position.OffAxis == Angle.Zero).MinBy(r => Math.Abs(r.Echo.MarginDecibels))!.Position.RangeMetres, 0.1);

    [Fact]
    public void Trials_serve_the_stated_confidence()
    {
        Assert.All(Plan.Value.Rows, r => Assert.Equal(Math.Abs(r.Echo.MarginDecibels) > 5 ? 29 : ExactInterval.TrialsForHalfWidthProbability(0.2, 0.95), r.Trials));
        Assert.All(Plan.Value.Rows, r => Assert.True(r.Band.LowProbability <= r.PredictedProbability && r.PredictedProbability <= r.Band.HighProbability));
        Assert.All(Plan.Value.Rows, r => Assert.InRange(r.PredictedProbability * r.Trials, r.LeastReports - 1e-9, r.MostReports + 1e-9));
        Assert.Equal(Enumerable.Range(1, Plan.Value.Rows.Length), Plan.Value.Rows.Select(r => r.Id));
    }

    [Fact]
    public void Absurd_settings_are_refused()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new FieldSettings(AirState.Standard, 4, 3));
        Assert.Throws<ArgumentOutOfRangeException>(() => new FieldSettings(AirState.Standard, SpreadDecibels: -1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new FieldPosition(new FieldTarget(FieldTargetKind.Sphere, 0.1, 0.1), 0.01, Angle.Zero, Angle.Zero));
        Assert.Contains("nothing to plan", Assert.Throws<ArgumentException>(() => FieldPlan.Of(
            Part with { Threshold = ThresholdProfile.Constant(150) }, new FieldSettings(AirState.Standard))).Message, StringComparison.Ordinal);
    }
}
