using System.Collections.Concurrent;
using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Studies.FieldTests;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Studies.FieldTests;

/// <summary>Field tests that are drawn trial by trial and ping by ping, without the tables of the model.</summary>
internal static class FieldTrials
{
    // Levels to a hundredth of a decibel come again and again.
    private static readonly ConcurrentDictionary<(double Over, double Alarm), double> Pings = new();

    internal static ImmutableArray<FieldObservation> Draw(FieldPlan plan, Transducer truth, int seed)
    {
        var random = new Random(seed);
        var sensor = new SensorAtPose(new PreparedTransducer(truth, new EchoMedium(plan.Settings.Air)), RigidTransform.Identity);
        return [.. plan.Rows.Select(row =>
        {
            BandEcho echo = PartEchoes.EvaluateBand(sensor, row.Position.Target.PartAt(row.Position.RangeMetres, row.Position.OffAxis, row.Position.Turn), Vec3.Zero);
            double threshold = sensor.Prepared.DetectionThresholdDecibels(echo.RangeMetres);
            return new FieldObservation(row.Id, row.Position, row.Trials, Enumerable.Range(0, row.Trials).Count(_ => Trial(echo.LevelDecibels, threshold)));
        })];

        bool Trial(double level, double threshold)
        {
            double slip = random.NextDouble(), spread = plan.Settings.SpreadDecibels * Normal();

            // Noise that is drowned by more than 25 dB decides nothing; its false alarms would be too rare for a number.
            double clearance = Math.Min(25, threshold - truth.NoiseLevelDecibels);
            double over = Math.Clamp(Math.Round(level + spread - threshold + clearance, 2), -60, 60), alarm = Math.Exp(-Decibels.ToPowerRatio(clearance));
            double ping = Pings.GetOrAdd((over, alarm), p => DetectionProbability.Steady(p.Over, p.Alarm));
            int hits = Enumerable.Range(0, plan.Settings.WindowPings).Count(_ => random.NextDouble() < ping);
            return slip < FieldSettings.SlipFraction || (slip < 1 - FieldSettings.SlipFraction && hits >= plan.Settings.RequiredHits);
        }

        double Normal() => Math.Sqrt(-2 * Math.Log(1 - random.NextDouble())) * Math.Cos(2 * Math.PI * random.NextDouble());
    }

    /// <summary>The same transducer with another figure of merit and another radius.</summary>
    internal static Transducer Truth(Transducer transducer, double gainDecibels, double radiusFactor)
    {
        var piston = new CircularPiston(((CircularPiston)transducer.Transmit).RadiusMetres * radiusFactor);
        return transducer with
        {
            Transmit = piston,
            Receive = piston,
            Threshold = transducer.Threshold.RaisedBy(-gainDecibels),
            NoiseLevelDecibels = transducer.NoiseLevelDecibels - gainDecibels,
        };
    }
}
