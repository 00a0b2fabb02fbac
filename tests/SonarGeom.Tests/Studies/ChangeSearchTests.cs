using System.Collections.Immutable;
using System.Globalization;
using System.Text.RegularExpressions;
using SonarGeom.Coverage;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Studies;
using SonarGeom.Tests.Coverage;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Studies;

public class ChangeSearchTests
{
    private static readonly string[] Sites = ["brow", "sternum", "belt front", "chest left", "chest right"];

    private static readonly Transducer Strong = CoverageBench.WidePair with { Name = "strong pair", SourceLevelDecibels = 113 };

    // One after another on the path: far enough apart that none hides the next.
    private static readonly ImmutableArray<Obstacle> Street =
    [
        Obstacle.Bar("branch", new Vec3(6, 0, 1.68), 0.03, 0.8),
        Obstacle.Pole("lamp", new Vec3(16, 0.1, 0), 0.114, 5),
        Obstacle.KerbUp("kerb", new Vec3(26, 0, 0), 0.12, 3),
        Obstacle.Bar("barrier", new Vec3(36, 0, 0.95), 0.05, 2),
        Obstacle.Board("sign", new Vec3(46, 0.12, 1.65), 0.5, 0.3) with { Yaw = Angle.FromDegrees(8) },
        Obstacle.Sphere("ball", new Vec3(56, 0, 1.5), 0.25),
        Obstacle.Board("turned board", new Vec3(66, 0.1, 1.2), 0.3, 0.3) with { Yaw = Angle.FromDegrees(20) },
    ];

    private static readonly Transducer Narrow = CoverageBench.WidePair with
    {
        Name = "narrow pair",
        Transmit = new CircularPiston(0.016),
        Receive = new CircularPiston(0.016),
    };

    private static readonly Lazy<PosedLayout> Posed = new(() => CoverageBench.OnMan.WithLayout(CoverageBench.Layout(
        CoverageBench.Sensor("chest", "sternum", 0, 0, transducer: Narrow))));

    private static readonly Lazy<(VerdictBoard Board, ImmutableArray<SmallestChange?> Changes)> Searched = new(() =>
    {
        VerdictBoard board = Board(Posed.Value);
        var search = new ChangeSearch(board, [Strong], [.. Sites], [CoverageBench.Branch.Name], Shares);
        return (board, [.. Enumerable.Range(0, Street.Length).Select(i => board.Verdict(i).IsDanger ? search.Find(i) : null)]);
    });

    [Fact]
    public void A_change_mends_what_it_says_and_its_gains_and_losses_are_real()
    {
        (VerdictBoard board, ImmutableArray<SmallestChange?> changes) = Searched.Value;
        ImmutableArray<ObstacleVerdict> before = board.Verdicts();
        Assert.Contains(before, v => v.IsDanger);
        Assert.Contains(before, v => !v.IsDanger);
        int found = 0;
        for (int i = 0; i < Street.Length; i++)
        {
            if (changes[i] is not { } change)
            {
                continue;
            }

            found++;
            PosedLayout changed = CoverageBench.Pose(Applied(Posed.Value.Layout, change));
            ImmutableArray<ObstacleVerdict> after = Board(changed).Verdicts();
            Assert.Equal(VerdictOutcome.WarnedInTime, after[i].Outcome);
            Assert.Equal(Ids(v => v.was == VerdictOutcome.WarnedInTime && v.now != VerdictOutcome.WarnedInTime), change.Lost.ToArray());
            Assert.Equal(
                Ids(v => v.was != VerdictOutcome.WarnedInTime && v.now == VerdictOutcome.WarnedInTime).Where(id => id != Street[i].Id), change.Gained.ToArray());
            Assert.Equal(HeadShare(Posed.Value), change.HeadShareBeforeFraction, 1e-12);
            Assert.Equal(HeadShare(changed), change.HeadShareAfterFraction, 1e-12);
            ImmutableArray<BandShare> was = Shares(Posed.Value, 0), now = Shares(changed, 0);
            Assert.Equal(
                was.Zip(now).Where(z => Math.Abs(z.First.WarnedFraction - z.Second.WarnedFraction) >= 0.005)
                    .Select(z => new BandChange(CoverageBench.Branch.Name, z.First.Band, z.First.WarnedFraction, z.Second.WarnedFraction)),
                change.Bands);

            IEnumerable<string> Ids(Func<(VerdictOutcome was, VerdictOutcome now), bool> which) =>
                [.. Enumerable.Range(0, Street.Length).Where(k => which((before[k].Outcome, after[k].Outcome))).Select(k => Street[k].Id)];
        }

        Assert.True(found >= 4, $"{found} mended");
        Assert.Contains(changes, c => c is { Lost.Length: > 0 });
        Assert.Contains(changes, c => c is { Gained.Length: > 0 });
        Assert.True(changes.Where(c => c is not null).Select(c => c!.Kind).Distinct().Count() >= 3);
    }

    [Fact]
    public void No_cheaper_turn_would_have_mended_it()
    {
        (_, ImmutableArray<SmallestChange?> changes) = Searched.Value;
        SensorLayout layout = Posed.Value.Layout;
        int tried = 0;
        for (int i = 0; i < Street.Length; i++)
        {
            double cost = changes[i]?.CostUnitless ?? (Searched.Value.Board.Verdict(i).IsDanger ? double.PositiveInfinity : 0);
            foreach (double turn in new[] { 5.0, -5, 10, -10, 15, -15 })
            {
                for (int s = 0; s < layout.Sensors.Length && Math.Abs(turn) / 5 < cost; s++)
                {
                    SensorPlacement sensor = layout.Sensors[s];
                    foreach (SensorPlacement turned in new[]
                    {
                        sensor with { Mount = sensor.Mount with { Tilt = sensor.Mount.Tilt + Angle.FromDegrees(turn) } },
                        sensor with { Mount = sensor.Mount with { Azimuth = sensor.Mount.Azimuth + Angle.FromDegrees(turn) } },
                    })
                    {
                        tried++;
                        Assert.NotEqual(VerdictOutcome.WarnedInTime, CoverageBench.Verdict(Posed.Value.WithSensor(s, turned), Street[i]).Outcome);
                    }
                }
            }
        }

        Assert.True(tried > 20);
    }

    [Fact]
    public void What_no_echo_can_tell_has_no_change()
    {
        VerdictBoard board = CoverageBench.Board(Posed.Value, Obstacle.StepDown("edge", new Vec3(5, 0, 0), 0.15, 3));
        Assert.Null(new ChangeSearch(board, [Strong], [.. Sites], [CoverageBench.Branch.Name], Shares).Find(0));
    }

    [Fact]
    public void The_search_finds_the_same_every_time()
    {
        var search = new ChangeSearch(Searched.Value.Board, [Strong], [.. Sites], [CoverageBench.Branch.Name], Shares);
        int i = Enumerable.Range(0, Street.Length).First(k => Searched.Value.Changes[k] is not null);
        SmallestChange again = search.Find(i)!, first = Searched.Value.Changes[i]!;
        Assert.Equal((first.Description, first.CostUnitless, first.HeadShareAfterFraction), (again.Description, again.CostUnitless, again.HeadShareAfterFraction));
        Assert.Equal(first.Lost.ToArray(), again.Lost.ToArray());
    }

    private static VerdictBoard Board(PosedLayout layout) => CoverageBench.Board(layout, [.. Street]);

    private static ImmutableArray<BandShare> Shares(PosedLayout layout, int probe) =>
        new ApproachMapper(layout, CoverageBench.Walk, CoverageBench.Coarse).Shares(CoverageBench.Branch);

    private static double HeadShare(PosedLayout layout) => TiltStudy.HeadShare(layout, CoverageBench.Branch, CoverageBench.Walk, CoverageBench.Coarse);

    // The change as a person would make it who reads the sentence.
    private static SensorLayout Applied(SensorLayout layout, SmallestChange change)
    {
        int index = Enumerable.Range(0, layout.Sensors.Length).First(s => layout.Sensors[s].Name == change.Sensor);
        SensorPlacement now = layout.Sensors[index];
        string text = change.Description;
        double number = Regex.Match(text, @"\d+(?=°| dB)") is { Success: true } m ? double.Parse(m.Value, CultureInfo.InvariantCulture) : 0;
        SensorPlacement then = change.Kind switch
        {
            ChangeKind.Tilt => now with { Mount = now.Mount with { Tilt = now.Mount.Tilt + Angle.FromDegrees(text.EndsWith("up", StringComparison.Ordinal) ? number : -number) } },
            ChangeKind.Azimuth => now with { Mount = now.Mount with { Azimuth = now.Mount.Azimuth + Angle.FromDegrees(text.EndsWith("left", StringComparison.Ordinal) ? number : -number) } },
            ChangeKind.Threshold => now with { Transducer = now.Transducer with { Threshold = now.Transducer.Threshold.RaisedBy(-number) } },
            ChangeKind.Site => now with { Mount = now.Mount with { Site = Sites.First(s => text.Contains($" to {s},", StringComparison.Ordinal)) } },
            _ => now with { Transducer = Strong },
        };
        Assert.Contains(change.Sensor, text);
        Assert.True(change.Kind is ChangeKind.Site or ChangeKind.Part || number > 0);
        return layout.WithSensors(layout.Sensors.SetItem(index, then));
    }
}
