using SonarGeom.Coverage;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Coverage;
using SonarGeom.Trials;

namespace SonarGeom.Tests.Trials;

public class TrialWalkTests
{
    private static readonly Obstacle Column = Obstacle.Pole("column", new Vec3(6, 0.05, 0), 0.1, 3);

    // Straight ahead without spread, every ping hears what the verdicts hear at the same place and moment.
    [Fact]
    public void Pings_hear_what_verdicts_hear()
    {
        TrialCourse course = TrialBench.Course(TrialBench.Calm, Column, Obstacle.Bar("branch", new Vec3(7, -0.1, 1.7), 0.03, 0.8));
        var (walk, _, pings) = TrialBench.Take(course, CoverageBench.Standard);
        PosedLayout posed = CoverageBench.OnMan;
        var board = course.MainPlace.Hazards;
        int heard = 0;
        foreach ((double seconds, int sensor, PingReport report) in pings.All.Where(p => p.Seconds < walk.Touches[0].Seconds))
        {
            var offset = new Vec3(-0.8 * seconds, 0, 0);
            int phase = (int)Math.Round(walk.PhaseAt(seconds) * posed.PhaseCount) % posed.PhaseCount;
            bool expected = board.Any(h => posed.MarginDecibels(sensor, phase, h.Parts.AsSpan(), offset, h.Others, out _) >= 0);
            Assert.Equal(expected, report.Source == AlertSource.Obstacle && !report.IsSilent);
            heard += expected ? 1 : 0;
        }

        Assert.InRange(heard, 20, 5000);
    }

    [Fact]
    public void What_is_touched_is_what_the_verdicts_say_is_on_course()
    {
        foreach (Obstacle obstacle in new[]
        {
            Column, Obstacle.Bar("branch", new Vec3(6, -0.1, 1.7), 0.03, 0.8), Obstacle.Bar("high", new Vec3(6, 0, 2.1), 0.03, 0.8),
            Obstacle.KerbUp("kerb", new Vec3(6, 0, 0), 0.12, 4), Obstacle.StepDown("step", new Vec3(6, 0, 0), 0.15, 4) with { Yaw = Angle.FromDegrees(15) },
            Obstacle.Pole("beside", new Vec3(6, 0.6, 0), 0.1, 3), Obstacle.Pole("wire", new Vec3(6, 0.1, 0), 0.004, 3),
            Obstacle.Box("bin", new Vec3(6, 0.25, 0), 0.7, 0.5, 1.0) with { Yaw = Angle.FromDegrees(-20) },
        })
        {
            TrialCourse course = TrialBench.Course(TrialBench.Calm, obstacle);
            WalkTouch touch = TrialWalk.Of(Outing.Of(course, TrialBench.Pair, 0), course.MainPlace, 0).Touches[0];
            Contact contact = Contact.Of(CoverageBench.OnMan, obstacle);
            Assert.Equal(contact.IsOnCourse, touch.IsTouched);
            if (touch.IsTouched)
            {
                // Cells of 10 mm; a thin wire is taken as 12 mm thick. The verdicts take a slanting step where it is nearest across the
                // whole stance, here it is where the toes are: 0.25 m times the tangent of 15°.
                double tolerance = obstacle.Kind == ObstacleKind.StepDown ? 0.07 : 0.02;
                Assert.Equal(contact.WalkerXMetres, 0.8 * touch.Seconds, tolerance);
            }
        }
    }

    [Fact]
    public void A_path_with_a_corner_is_the_same_walk_turned()
    {
        Vec3 corner = new(10, 0, 0);
        Obstacle after = Obstacle.Pole("after", new Vec3(10.05, 6, 0), 0.1, 3);
        TrialSettings bent = TrialBench.Calm with { Path = new TrialPath([Vec3.Zero, corner, new Vec3(10, 12, 0)]) };
        WalkTouch turned = TrialWalk.Of(Outing.Of(TrialBench.Course(bent, after), TrialBench.Pair, 0), TrialBench.Course(bent, after).MainPlace, 0).Touches[0];
        Obstacle straight = Obstacle.Pole("ahead", new Vec3(16, -0.05, 0), 0.1, 3);
        TrialCourse plain = TrialBench.Course(TrialBench.Calm, straight);
        WalkTouch ahead = TrialWalk.Of(Outing.Of(plain, TrialBench.Pair, 0), plain.MainPlace, 0).Touches[0];
        Assert.True(turned.IsTouched && ahead.IsTouched);
        Assert.Equal(ahead.Seconds, turned.Seconds, 1e-3);
    }

    [Fact]
    public void What_comes_by_itself_is_at_its_place_when_the_wearer_gets_there()
    {
        Obstacle rider = Obstacle.Box("rider", new Vec3(8, 0, 0), 1.5, 0.5, 1.7) with { ClosingSpeedMetresPerSecond = 4 };
        TrialCourse course = TrialBench.Course(TrialBench.Calm, rider);
        TrialWalk walk = TrialWalk.Of(Outing.Of(course, TrialBench.Pair, 0), course.MainPlace, 0);
        Assert.Equal(0, walk.OffsetMetres(0, walk.Touches[0].Seconds).X, 1e-9);
        Assert.Equal(4, walk.OffsetMetres(0, walk.Touches[0].Seconds - 1).X, 1e-9);
    }

    // The spread of a walk that has gone on for long: σ·√(L³/(4ℓ)) of the remarks; 20 % for the steps being finite.
    [Fact]
    public void Walkers_stray_as_far_as_stated()
    {
        var settings = new TrialSettings();
        double sum = 0;
        const int Walks = 400;
        for (ulong i = 0; i < Walks; i++)
        {
            var draws = new SeededDraws(7, i);
            double aside = new WalkLine(settings, 60, 0.55, ref draws).At(50).AsideMetres;
            sum += aside * aside;
        }

        // Cut off at twice the deviation, steps have 0.88 of it.
        double stated = 0.88 * Math.PI / 180 * Math.Sqrt(64 / (4 * 0.55));
        Assert.Equal(stated, Math.Sqrt(sum / Walks), 0.2 * stated);
    }

    // Ghosts by hand: R − c·T/2. A wall at 6.4 m answers the burst of one cycle before when the cycle is 30 ms.
    [Fact]
    public void Ghosts_are_where_hand_work_puts_them()
    {
        var loud = CoverageBench.WidePair with { SourceLevelDecibels = 125, ListeningWindowSeconds = 0.029 };
        var layout = new SensorLayout("ghosts", string.Empty, [CoverageBench.Sensor("one", "sternum", 0, 0, transducer: loud)], new FiringPlan(0.030, 1, 1, 0));
        TrialCourse course = TrialBench.Over(Ground.Grass, TrialBench.Calm, Obstacle.Wall("wall", new Vec3(9, 0, 0), 6, 3));
        var (_, _, pings) = TrialBench.Take(course, layout);
        double speed = CoverageBench.OnMan.Medium.SoundSpeedMetresPerSecond;
        var ghosts = pings.All.Where(p => p.Report.Source == AlertSource.Ghost && !p.Report.IsSilent).ToArray();
        Assert.True(ghosts.Length > 10, $"{ghosts.Length} ghosts");
        foreach ((double seconds, int _, PingReport report) in ghosts)
        {
            double sensorToWall = 9 - (0.8 * seconds) - CoverageBench.OnMan.Sensor(1, 0).MidpointMetres.X;
            Assert.Equal(sensorToWall - (0.030 * speed / 2), report.RangeMetres, 0.12);
        }
    }

    [Fact]
    public void The_share_of_time_away_is_the_stated_one_and_tells_why_things_were_missed()
    {
        TrialSettings away = TrialBench.Calm with { Away = [new AwayTime("spoken message", 0.9, 30)], Walks = 40, WalksPerOuting = 40 };
        TrialReport report = TrialEngine.Run(TrialBench.Course(away, Column), TrialBench.Pair);
        Assert.Equal(0.9, report.Layouts[0].AwayFraction, 0.07);
        ObstacleTrials column = report.Layouts[0].Obstacles[0];
        Assert.True(column.Warned.Fraction < 0.4);
        Assert.Equal(MissCause.NotLooking, column.Misses[0].Cause);
        Assert.Equal(1, TrialEngine.Run(TrialBench.Course(TrialBench.Calm, Column), TrialBench.Pair).Layouts[0].Obstacles[0].Warned.Fraction);
    }
}
