using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes;

public class FoliageEchoTests
{
    private static readonly PreparedTransducer Piston = new(EchoBench.Part(new CircularPiston(0.007), 0.02, 110), EchoMedium.Standard);

    private static SensorAtPose Sensor(double y = 0, double azimuth = 0) => EchoBench.At(Piston, new Vec3(0, y, 1.2), azimuth);

    private static FoliagePart Hedge(double distance, double perCubicMetre, double depth = 0.6, double yawDegrees = 0, double y = 0) =>
        Obstacle.Foliage("hedge", new Vec3(distance + (0.5 * depth), y, 0.8), FoliageForm.Box, depth, 1.2, 0.8, 0.02, perCubicMetre) is var o
            ? (o with { Yaw = Angle.FromDegrees(yawDegrees) }).LeavesPart() : null!;

    private static FoliagePart Bush(double distance, double perCubicMetre, double radius = 0.02, double y = 0) =>
        Obstacle.Foliage("bush", new Vec3(distance + 0.3, y, 0.9), FoliageForm.Ellipsoid, 0.6, 0.8, 0.6, radius, 1000).LeavesPart()
            with
        { LeavesPerCubicMetre = perCubicMetre };

    // The other engine goes leaf by leaf and frequency by frequency: the means may differ by chance (four standard errors of a Rayleigh echo,
    // more where few leaves answer) and by 0.6 dB of the quadrature. The level of nine pings in ten must never stand above that of the pings,
    // but for the chance of a tenth quantile of 200 (1 dB), and not more than 5 dB below it.
    [Theory]
    [InlineData(0.9, 2500, 0.0)]
    [InlineData(1.8, 800, 40.0)]
    [InlineData(1.5, 300, 0.0)]
    public void TheClosedFormAgreesWithPingsAtSeededLeaves(double distance, double perCubicMetre, double yawDegrees)
    {
        foreach (FoliagePart part in (FoliagePart[])[Hedge(distance, perCubicMetre, 0.5, yawDegrees), Bush(distance, perCubicMetre)])
        {
            FoliageLevels closed = FoliageEcho.Evaluate(Sensor(), part);
            FoliageEnsemble pings = FoliageEnsemble.Of(Sensor(), part, 200, 5);
            double chance = pings.StandardErrorDecibels * Math.Sqrt(1 + (1 / (closed.EffectiveLeavesUnitless * new LeafScatter(Piston.Band, 0.02).Swing.ScatterersPerLeaf)));
            Assert.InRange(pings.MeanDecibels, closed.MeanDecibels - 0.6 - (4 * chance), closed.MeanDecibels + 0.6 + (4 * chance));
            Assert.InRange(closed.NineInTenDecibels, pings.NineInTenDecibels - 5, pings.NineInTenDecibels + 1);
        }
    }

    // A hedge dead ahead is too weak, not out of a beam that could be turned; the same hedge 60° aside is out of it.
    [Fact]
    public void TheCauseTellsAHedgeAheadThatIsTooWeakFromOneAside()
    {
        FoliagePart faint = Hedge(3.5, 300) with { ReflectionLossDecibels = 15 };
        Assert.Equal(LimitingCause.TooWeak, EchoExplainer.Explain(Sensor(), [faint]).Cause);
        LevelBudget aside = EchoExplainer.Explain(Sensor(azimuth: 60), [Hedge(1.0, 2500)]);
        Assert.True(aside.MarginDecibels < 0 && EchoExplainer.Explain(Sensor(), [Hedge(1.0, 2500)]).IsDetected, $"{aside.MarginDecibels} dB");
        Assert.Equal(LimitingCause.OutOfBeam, aside.Cause);
    }

    [Fact]
    public void FinerStepsChangeLittle()
    {
        for (int seed = 0; seed < 20; seed++)
        {
            var random = new Random(seed);
            FoliagePart part = seed % 2 == 0
                ? Hedge(0.5 + (2 * random.NextDouble()), 500 + (3000 * random.NextDouble()), 0.6, 60 * (random.NextDouble() - 0.5))
                : Bush(0.5 + (2 * random.NextDouble()), 500 + (3000 * random.NextDouble()), 0.02, random.NextDouble() - 0.5);
            FoliageLevels usual = FoliageEcho.Evaluate(Sensor(), part);
            FoliageLevels finer = FoliageEcho.Evaluate(Sensor(), part, default, Piston.Band, 4, [], FoliageEcho.MissedShare);
            Assert.InRange(usual.MeanDecibels, finer.MeanDecibels - 0.4, finer.MeanDecibels + 0.4);
            Assert.InRange(usual.NineInTenDecibels, finer.NineInTenDecibels - 0.8, finer.NineInTenDecibels + 0.8);
            Assert.InRange(usual.StrongestRangeMetres, finer.StrongestRangeMetres - 0.05, finer.StrongestRangeMetres + 0.05);
        }
    }

    [Fact]
    public void ThinFoliageGainsThreeDecibelsForTwiceTheLeavesAndDenseFoliageNothing()
    {
        double Level(double perCubicMetre) => FoliageEcho.Evaluate(Sensor(), Bush(1.5, perCubicMetre)).MeanDecibels;
        Assert.InRange(Level(40) - Level(20), 2.9, 3.01);

        // The way into dense leaves, 8 and 4 cm, is about as long as the burst: twice the leaves gain a little still.
        Assert.InRange(Level(20_000) - Level(10_000), -0.3, 1.5);
        double before = double.NegativeInfinity;
        double beforeReliable = double.NegativeInfinity;
        for (double n = 25; n < 3000; n *= 2)
        {
            FoliageLevels levels = FoliageEcho.Evaluate(Sensor(), Bush(1.5, n));
            Assert.True(levels.MeanDecibels > before && levels.NineInTenDecibels > beforeReliable, $"{n}: {levels}");
            Assert.True(levels.NineInTenDecibels < levels.MeanDecibels);
            (before, beforeReliable) = (levels.MeanDecibels, levels.NineInTenDecibels);
        }
    }

    // A cloud so small and far that it is a point: mean TS = 10 log(n ⟨|f|²⟩), and the level of a point by the sonar equation.
    [Fact]
    public void ASmallFarCloudAnswersWithTheMeanOverItsAttitudes()
    {
        var part = new FoliagePart("twig", new RigidTransform(Rotation.Identity, new Vec3(4, 0, 1.2)), FoliageForm.Ellipsoid, new Vec3(0.01, 0.01, 0.01), 0.01, 1000);
        double leaves = part.VolumeCubicMetres * part.LeavesPerCubicMetre;
        double mean = new LeafScatter(Piston.Band, 0.01).Mean;
        double expected = Piston.Transducer.SourceLevelDecibels + Piston.Spectrum.BuildUpDecibels + (10 * Math.Log10(leaves * mean)) - (40 * Math.Log10(4))
            - (8 * Piston.AbsorptionDecibelsPerMetre);

        // Rays on a grid cut a ball out of its box to 4 % of its area, and the steps of the burst cut its peak by below 0.1 dB.
        Assert.InRange(FoliageEcho.Evaluate(Sensor(), part).MeanDecibels, expected - 0.4, expected + 0.3);
    }

    [Fact]
    public void AMirroredPlaceIsHeardAlike()
    {
        for (int seed = 0; seed < 20; seed++)
        {
            var random = new Random(seed);
            double y = random.NextDouble() - 0.5, yaw = 80 * (random.NextDouble() - 0.5), azimuth = 40 * (random.NextDouble() - 0.5), at = 0.6 + random.NextDouble();
            FoliageLevels one = FoliageEcho.Evaluate(Sensor(0.3, azimuth), Hedge(at, 2000, 0.5, yaw, y));
            FoliageLevels other = FoliageEcho.Evaluate(Sensor(-0.3, -azimuth), Hedge(at, 2000, 0.5, -yaw, -y));
            Assert.Equal(one.MeanDecibels, other.MeanDecibels, 1e-9);
            Assert.Equal(one.NineInTenDecibels, other.NineInTenDecibels, 1e-9);
            Assert.Equal(one.RangeMetres, other.RangeMetres, 1e-9);
            Assert.True(one.IsSilent || one.GlintMetres.DistanceTo(other.GlintMetres with { Y = -other.GlintMetres.Y }) < 1e-9);
        }
    }

    [Fact]
    public void TransmitterAndReceiverMayChangePlaces()
    {
        Transducer pair = EchoBench.Part(new CircularPiston(0.007), 0.04, 110, receive: new GaussianBeam(Angle.FromDegrees(25), -6));
        Transducer swapped = pair with
        {
            Transmit = pair.Receive,
            Receive = pair.Transmit,
            TransmitterOffsetMetres = pair.ReceiverOffsetMetres,
            ReceiverOffsetMetres = pair.TransmitterOffsetMetres,
        };
        FoliageLevels one = FoliageEcho.Evaluate(EchoBench.At(new PreparedTransducer(pair, EchoMedium.Standard), new Vec3(0, 0, 1.2), 12), Hedge(0.7, 1500));
        FoliageLevels other = FoliageEcho.Evaluate(EchoBench.At(new PreparedTransducer(swapped, EchoMedium.Standard), new Vec3(0, 0, 1.2), 12), Hedge(0.7, 1500));
        Assert.False(one.IsSilent);

        // Rays reach as far as both beams; the angle is looked for at the same places.
        Assert.Equal(one.MeanDecibels, other.MeanDecibels, 1e-6);
        Assert.Equal(one.NineInTenDecibels, other.NineInTenDecibels, 1e-6);
    }

    [Fact]
    public void WhatIsBehindLeavesIsWeakenedByTheirShadowOutAndBack()
    {
        FoliagePart hedge = Hedge(0.8, 3000, 0.3);
        var behind = new Vec3(2, 0, 1.2);
        double expected = -10 * Math.Log10(Math.E) * 0.5 * Math.PI * 0.02 * 0.02 * 3000 * 0.6;
        Assert.Equal(expected, LeafVeil.EchoLossDecibels([hedge], Vec3.Zero, Sensor(), behind), 0.01);
        Assert.Equal(0, LeafVeil.EchoLossDecibels([hedge], Vec3.Zero, Sensor(), new Vec3(0.7, 0, 1.2)), 1e-12);
        Assert.Equal(expected, LeafVeil.EchoLossDecibels([hedge], new Vec3(0.5, 0, 0), Sensor(), behind), 0.01);
        var surroundings = new EchoSurroundings { Leaves = [hedge] };
        ObstacleEcho wall = ObstacleEcho.Strongest(Sensor(), Obstacle.Wall("w", new Vec3(2, 0, 0), 3, 2.4).Parts(null), default, surroundings);
        Assert.Equal(expected, wall.ObstacleLossDecibels, 0.1);
    }

    [Fact]
    public void TheBudgetAddsUpAndTellsTheSwing()
    {
        LevelBudget budget = EchoExplainer.Explain(Sensor(), [Bush(1.2, 1500)]);
        Assert.Equal(budget.EchoLevelDecibels, budget.SumOfLinesDecibels, 1e-6);
        Assert.InRange(budget.SwingDecibels, -25, -2);
        Assert.Equal(FoliageEcho.Evaluate(Sensor(), Bush(1.2, 1500)).MeanDecibels, budget.MeanEchoLevelDecibels, 1e-6);
    }

    [Fact]
    public void TheTraceStandsAtTheLevelOfTheVerdict()
    {
        Obstacle bush = Obstacle.Foliage("bush", new Vec3(1.6, 0, 0.9), FoliageForm.Ellipsoid, 0.6, 0.8, 0.6, 0.02, 2000);
        FoliageLevels levels = FoliageEcho.Evaluate(Sensor(), bush.LeavesPart());
        LevelTrace trace = LevelTrace.Of(Sensor(), TraceSources.Of([bush], null));
        TraceContribution leaves = Assert.Single(trace.Contributions);
        Assert.Equal("bush: foliage", leaves.Label);
        Assert.InRange(leaves.PeakDecibels, levels.NineInTenDecibels - 0.3, levels.NineInTenDecibels + 0.1);
    }

    [Fact]
    public void ThePingsOfTrialsHaveTheSharesThatVerdictsTell()
    {
        FoliagePart bush = Bush(1.2, 1500);
        Assert.Equal(FoliageEcho.Evaluate(Sensor(), bush).NineInTenDecibels, FoliageEcho.Ping(Sensor(), bush, default, 0.1).LevelDecibels, 1e-9);
        double before = double.NegativeInfinity;
        for (double share = 0.05; share < 1; share += 0.05)
        {
            double level = FoliageEcho.Ping(Sensor(), bush, default, share).LevelDecibels;
            Assert.True(level > before);
            before = level;
        }
    }

    [Fact]
    public void AnEvaluationAllocatesNothing()
    {
        SensorAtPose sensor = Sensor();
        FoliagePart part = Hedge(0.9, 2500);
        FoliageEcho.Evaluate(sensor, part);
        long before = GC.GetAllocatedBytesForCurrentThread();
        for (int i = 0; i < 20; i++)
        {
            FoliageEcho.Evaluate(sensor, part, new Vec3(0.01 * i, 0, 0));
        }

        Assert.Equal(before, GC.GetAllocatedBytesForCurrentThread());
    }

    [Fact]
    public void TheOtherEngineIsPingsAtSeededLeaves()
    {
        FoliagePart bush = Bush(1.2, 300);
        Assert.Equal(EchoEngine.ClosedForm, EngineChoice.Evaluate(Sensor(), bush).Engine);
        EngineEcho pings = EngineChoice.Evaluate(Sensor(), bush, EngineRequest.SurfaceIntegral);
        Assert.Equal(EchoEngine.Ensemble, pings.Engine);
        Assert.Contains("seeded leaves", pings.Reason);
        Assert.Equal(FoliageEnsemble.Of(Sensor(), bush).NineInTenDecibels, pings.BandLevelDecibels, 1e-9);
    }
}
