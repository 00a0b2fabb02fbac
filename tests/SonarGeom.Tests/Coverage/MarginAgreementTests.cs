using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Files;
using SonarGeom.Files.Catalogue;
using SonarGeom.Geometry;
using SonarGeom.Layouts;
using SonarGeom.Tests.Bodies;

namespace SonarGeom.Tests.Coverage;

/// <summary>Maps take the fast way to a margin, explanations the long one: both must tell the same story.</summary>
public class MarginAgreementTests
{
    public static TheoryData<string, string> Cases
    {
        get
        {
            var cases = new TheoryData<string, string>();
            foreach (string layout in ShippedCatalogue.Layouts)
            {
                cases.Add(layout, "median man");
                cases.Add(layout, "cane right");
            }

            return cases;
        }
    }

    // Where nothing of the wearer is in the way the two are one computation. Behind the edge of an arm or a cane the map
    // interpolates between rays 5° apart and the explanation casts its own: they may differ at places along that edge, which
    // are few: at most one in thirty of those that are heard.
    [Theory]
    [MemberData(nameof(Cases))]
    public void What_a_map_hears_the_explanation_hears(string layoutName, string wearer)
    {
        var random = new Random(3);
        PosedLayout layout = CoverageBench.Pose(InputFiles.ReadLayout(layoutName), Wearers.Build(Wearers.Varied[wearer]));
        int heard = 0, differ = 0;
        foreach (Probe probe in Probe.Defaults)
        {
            ProbeTarget target = ProbeTarget.Of(probe);
            for (int i = 0; i < 300; i++)
            {
                int sensor = random.Next(layout.SensorCount), phase = random.Next(layout.PhaseCount);
                Vec3 at = new(0.3 + (2.5 * random.NextDouble()), random.NextDouble() - 0.5, layout.Sensor(sensor, phase).MidpointMetres.Z + (0.8 * (random.NextDouble() - 0.5)));
                double margin = layout.MarginDecibels(sensor, phase, target, at);
                LevelBudget budget = layout.Explain(sensor, phase, target.Parts, at);
                heard += margin >= 0 ? 1 : 0;
                bool agree = (margin >= 0) == (budget.Cause == LimitingCause.None);
                differ += agree ? 0 : 1;
                if (budget.WearerOcclusionDecibels == 0 && double.IsFinite(margin) && margin > -30)
                {
                    Assert.True(agree || wearer != "median man", $"{probe.Name} at {at}: {margin} dB and {budget.Cause}");
                    double explained = budget.EchoLevelDecibels - Math.Max(budget.ThresholdDecibels, budget.NoiseDecibels);
                    Assert.True(!agree || Math.Abs(explained - margin) < 1e-6 || margin < explained, $"{probe.Name} at {at}: {margin} and {explained} dB");
                }
            }
        }

        Assert.True(heard > 30, $"{heard} heard");
        Assert.InRange(differ, 0, Math.Max(1, heard / 30));
    }

    [Fact]
    public void Swapping_transmitter_and_receiver_changes_no_margin()
    {
        SensorLayout uneven = CoverageBench.Layout([.. CoverageBench.Standard.Sensors.Select(s => s with
        {
            Transducer = s.Transducer with { Receive = new SonarGeom.Transducers.CircularPiston(0.009) },
        })]);
        SensorLayout swapped = uneven.WithSensors([.. uneven.Sensors.Select(s => s with
        {
            Transducer = s.Transducer with
            {
                Transmit = s.Transducer.Receive,
                Receive = s.Transducer.Transmit,
                TransmitterOffsetMetres = s.Transducer.ReceiverOffsetMetres,
                ReceiverOffsetMetres = s.Transducer.TransmitterOffsetMetres,
            },
        })]);
        PosedLayout one = CoverageBench.OnMan.WithLayout(uneven), other = CoverageBench.OnMan.WithLayout(swapped);
        foreach (Probe probe in Probe.Defaults)
        {
            ProbeTarget target = ProbeTarget.Of(probe);
            var random = new Random(11);
            for (int i = 0; i < 200; i++)
            {
                Vec3 at = new(0.4 + (2.5 * random.NextDouble()), random.NextDouble() - 0.5, 0.2 + (1.6 * random.NextDouble()));
                int sensor = i % one.SensorCount, phase = i % one.PhaseCount;
                double here = one.MarginDecibels(sensor, phase, target, at), there = other.MarginDecibels(sensor, phase, target, at);
                Assert.True(here == there || Math.Abs(here - there) < 1e-6 || Math.Max(here, there) < -80, $"{probe.Name} at {at}: {here} and {there} dB");
            }
        }
    }
}
