using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Mounting;
using SonarGeom.Quantities;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Bodies;

public class AnyWearerTests
{
    private const int Adults = 40;
    private const int Children = 20;

    // Drawn from a fixed seed, so that a failure comes again; the seed stands beside the wearer in the message.
    [Fact]
    public void Any_wearer_whom_the_tables_cover_can_be_built_mounted_and_walked()
    {
        for (int seed = 0; seed < Adults; seed++)
        {
            Check(Adult(new Random(seed)), seed);
        }
    }

    [Fact]
    public void Any_child_whom_the_tables_cover_can_be_built_mounted_and_walked()
    {
        for (int seed = 0; seed < Children; seed++)
        {
            Check(Child(new Random(1000 + seed)), 1000 + seed);
        }
    }

    private static WearerSpec Adult(Random random)
    {
        Sex sex = random.Next(2) == 0 ? Sex.Male : Sex.Female;
        AdultPercentiles statures = Wearers.Tables.AdultPercentiles[(BodyMeasure.Stature, sex)];
        double stature = statures.Mean + (statures.StandardDeviation * Between(random, -4.4, 4.4));
        AdultRegression line = Wearers.Tables.AdultRegressions[(BodyMeasure.BodyMass, sex)];
        double expected = (line.SlopePerMetre * stature) + line.Intercept;
        int aid = random.Next(5);
        return new WearerSpec
        {
            Sex = sex,
            StatureMetres = stature,
            MassKilograms = Math.Max(expected + (line.StandardError * Between(random, -2.9, 5.9)), 35),
            Posture = new Posture(Angle.FromDegrees(Between(random, 0, 45)), Angle.FromDegrees(Between(random, -20, 50))),
            CaneSide = aid == 1 ? BodySide.Left : aid == 2 ? BodySide.Right : null,
            Wheelchair = aid == 3 ? WheelchairKind.Manual : aid == 4 ? WheelchairKind.Powered : null,
        };
    }

    private static WearerSpec Child(Random random)
    {
        var child = new WearerSpec
        {
            Sex = random.Next(2) == 0 ? Sex.Male : Sex.Female,
            AgeYears = Between(random, 3, 17.99),
            StaturePercentile = Between(random, 1, 99),
        };
        Estimate mass = BodyDimensions.Of(child, Wearers.Tables).Estimate(BodyMeasure.BodyMass);
        return child with { MassKilograms = mass.Value + (mass.StandardError * Between(random, -2, 4)) };
    }

    private static double Between(Random random, double low, double high) => low + ((high - low) * random.NextDouble());

    private static void Check(WearerSpec spec, int seed)
    {
        try
        {
            Check(spec);
        }
        catch (Exception e) when (e is ArgumentException or Xunit.Sdk.XunitException)
        {
            Assert.Fail($"Seed {seed}, {spec}: {e.Message}");
        }
    }

    private static void Check(WearerSpec spec)
    {
        Body body = Wearers.Build(spec);
        BandSpan[] bands = [body.Bands.Foot, body.Bands.Knee, body.Bands.Waist, body.Bands.Chest, body.Bands.Head];
        Assert.All(bands, b => Assert.True(b.TopMetres >= b.BottomMetres));
        Assert.True(body.Bands.Head.TopMetres > body.Bands.Head.BottomMetres + 0.25);
        Assert.All(body.Segments, s => Assert.All(s.Surface.Vertices, v => Assert.True(v.IsFinite)));
        Assert.All(body.Segments, s => Assert.True(body.Still.Mesh(s.Id).Vertices.Min(v => v.Z) > -1e-6, $"{s.Id} is under the ground"));
        foreach (Site site in body.AllSites)
        {
            // Seated, the belly of a heavy wearer lies on the thighs, and the rest of the chair on the back.
            if (spec.Wheelchair is not null && (site.Segment is SegmentId.Pelvis or SegmentId.ThighLeft or SegmentId.ThighRight || site.Name == "back"))
            {
                continue;
            }

            // A housing of 20 mm on the skin is always outside the body.
            Vec3 out20 = body.Neutral.WorldFromSegment(site.Segment).ApplyToDirection(0.02 * site.OutwardNormal);
            Mounter.SegmentFromSensor(body, new Mount(site.Name, out20, Angle.Zero, Angle.Zero, Angle.Zero, MountTolerance.None));
        }

        var motion = SwayEnvelope.Of(body, 0.8);
        foreach (double phase in new[] { 0.0, 0.31, 0.55 })
        {
            PosedBody posed = motion.PoseAt(phase);
            Assert.All(body.Segments, s => Assert.True(posed.Mesh(s.Id).Vertices.Min(v => v.Z) > -1e-6, $"{s.Id} is under the ground at {phase}"));
        }
    }
}
