using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Mounting;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Coverage;

/// <summary>Answers that a map keeps are those that a sensor gives, and those that stand a turn are those that it would give again.</summary>
public sealed class KeptAnswerTests
{
    private const int Seed = 4_711;

    [Fact]
    public void AKeptAnswerIsTheAnswer()
    {
        var gross = new GrossSum();
        foreach ((int sensor, int phase, ProbeTarget target, Vec3 at) in Questions(3_000))
        {
            double margin = CoverageBench.OnMan.MarginWithDeadZone(sensor, phase, target, at, out bool isDeaf);
            KeptAnswer answer = CoverageBench.OnMan.Ask(sensor, phase, target, at, gross, out bool isReport);
            Assert.Equal(margin >= 0, isReport);
            Assert.Equal(isDeaf, answer.IsLoudInDeadZone);
            Assert.Equal(margin, CoverageBench.OnMan.MarginOf(answer, sensor, phase));
            Assert.Equal(
                CoverageBench.OnMan.BareMarginDecibels(sensor, phase, target.Parts, at), CoverageBench.OnMan.AskBare(sensor, phase, target, at, gross).MarginDecibels);
        }
    }

    [Fact]
    public void WhatStandsATurnWouldBeAnsweredAgain()
    {
        var gross = new GrossSum();
        int stood = 0, asked = 0;
        foreach (double degrees in new[] { 0.3, -1.0, 2.7, 0.5, 1.0, -1.5 })
        {
            Func<Mount, Mount> turnedBy = degrees switch
            {
                0.5 => m => m with { Azimuth = m.Azimuth + Angle.FromDegrees(degrees), Roll = m.Roll + Angle.FromDegrees(degrees) },
                1.0 or -1.5 => m => m with { Azimuth = m.Azimuth + Angle.FromDegrees(degrees) },
                _ => m => m with { Tilt = m.Tilt + Angle.FromDegrees(degrees) },
            };
            PosedLayout[] turned = [.. Enumerable.Range(0, CoverageBench.OnMan.SensorCount).Select(s => Turned(s, turnedBy))];
            foreach ((int sensor, int phase, ProbeTarget target, Vec3 at) in Questions(3_000))
            {
                KeptAnswer answer = CoverageBench.OnMan.Ask(sensor, phase, target, at, gross, out _);
                var turn = PoseTurn.Between(CoverageBench.OnMan.Sensor(sensor, phase), turned[sensor].Sensor(sensor, phase));
                bool stands = turned[sensor].Stands(answer.Quick(CoverageBench.OnMan.Sensor(sensor, phase).Prepared), turn, sensor, phase, out bool isReport, out bool isDeaf) ?? PosedLayout.Stands(answer, turn);
                asked++;
                if (stands)
                {
                    stood++;
                    double margin = turned[sensor].MarginWithDeadZone(sensor, phase, target, at, out bool isDeafAgain);
                    Assert.True(margin >= 0 == isReport, $"seed {Seed}, {degrees}°: {target.Probe.Name} at {at}, sensor {sensor}, phase {phase}: margin {margin}");
                    Assert.Equal(isDeafAgain, isDeaf);
                }

                (double least, double most) = turned[sensor].MarginBounds(answer, turn, sensor, phase, at);
                double now = turned[sensor].MarginDecibels(sensor, phase, target, at);
                Assert.True(now >= least && now <= most, $"seed {Seed}, {degrees}°: margin {now}, bounds {least} and {most}");
            }
        }

        Assert.InRange(stood, 0.8 * asked, 0.999 * asked);
    }

    [Fact]
    public void TheCauseAloneIsTheCauseOfTheBudget()
    {
        int named = 0;
        foreach ((int sensor, int phase, ProbeTarget target, Vec3 at) in Questions(1_500))
        {
            SteadyFacts? steady = null;
            LimitingCause cause = CoverageBench.OnMan.CauseOf(sensor, phase, target.Parts, at, ref steady);
            Assert.Equal(CoverageBench.OnMan.Explain(sensor, phase, target.Parts, at).Cause, cause);
            if (steady is not null)
            {
                PosedLayout turned = Tilted(sensor, 2);
                Assert.Equal(turned.Explain(sensor, phase, target.Parts, at).Cause, turned.CauseOf(sensor, phase, target.Parts, at, ref steady));
                named++;
            }
        }

        Assert.InRange(named, 1_000, 1_500);
    }

    private static PosedLayout Tilted(int sensor, double degrees) => Turned(sensor, m => m with { Tilt = m.Tilt + Angle.FromDegrees(degrees) });

    private static PosedLayout Turned(int sensor, Func<Mount, Mount> turnedBy)
    {
        SensorPlacement placement = CoverageBench.OnMan.Layout.Sensors[sensor];
        return CoverageBench.OnMan.WithSensor(sensor, placement with { Mount = turnedBy(placement.Mount) });
    }

    private static IEnumerable<(int Sensor, int Phase, ProbeTarget Target, Vec3 At)> Questions(int count)
    {
        var random = new Random(Seed);
        ProbeTarget[] targets = [.. Probe.Defaults.Select(ProbeTarget.Of)];
        for (int i = 0; i < count; i++)
        {
            var at = new Vec3(0.2 + (3 * random.NextDouble()), 1.2 * (random.NextDouble() - 0.5), 2.1 * random.NextDouble());
            yield return (random.Next(4), random.Next(CoverageBench.Phases), targets[random.Next(targets.Length)], at);
        }
    }
}
