using CsCheck;
using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Mounting;
using SonarGeom.Quantities;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Bodies;

public class AnyWearerTests
{
    private static readonly Gen<WearerSpec> AnyWearer = Gen.Select(
        Gen.Bool,
        Gen.Double[1.37, 2.03],
        Gen.Double[0.02, 0.98],
        Gen.Double[0, 45],
        Gen.Double[-20, 50],
        Gen.Int[0, 4],
        (isMale, stature, massShare, flexion, down, aid) =>
        {
            Sex sex = isMale ? Sex.Male : Sex.Female;
            AdultPercentiles statures = Wearers.Tables.AdultPercentiles[(BodyMeasure.Stature, sex)];
            stature = Math.Clamp(stature, statures.Mean - (4.4 * statures.StandardDeviation), statures.Mean + (4.4 * statures.StandardDeviation));
            AdultRegression line = Wearers.Tables.AdultRegressions[(BodyMeasure.BodyMass, sex)];
            double expected = (line.SlopePerMetre * stature) + line.Intercept;
            return new WearerSpec
            {
                Sex = sex,
                StatureMetres = stature,
                MassKilograms = expected + (line.StandardError * (-3 + (9 * massShare))),
                Posture = new Posture(Angle.FromDegrees(flexion), Angle.FromDegrees(down)),
                CaneSide = aid == 1 ? BodySide.Left : aid == 2 ? BodySide.Right : null,
                Wheelchair = aid == 3 ? WheelchairKind.Manual : null,
            };
        });

    private static readonly Gen<WearerSpec> AnyChild = Gen.Select(
        Gen.Bool,
        Gen.Double[3, 17.9],
        Gen.Double[1, 99],
        Gen.Double[-2, 4],
        (isBoy, age, percentile, heavy) =>
        {
            var child = new WearerSpec { Sex = isBoy ? Sex.Male : Sex.Female, AgeYears = age, StaturePercentile = percentile };
            Estimate mass = BodyDimensions.Of(child, Wearers.Tables).Estimate(BodyMeasure.BodyMass);
            return child with { MassKilograms = mass.Value + (heavy * mass.StandardError) };
        });

    [Fact]
    public void Any_wearer_whom_the_tables_cover_can_be_built_mounted_and_walked() => AnyWearer.Sample(Check, iter: 24, seed: "0000KpQ8VV2a", threads: 1);

    [Fact]
    public void Any_child_whom_the_tables_cover_can_be_built_mounted_and_walked() => AnyChild.Sample(Check, iter: 16, seed: "0000KpQ8VV2a", threads: 1);

    private static void Check(WearerSpec spec)
    {
        Body body = Wearers.Build(spec);
        BandSpan[] bands = [body.Bands.Foot, body.Bands.Knee, body.Bands.Waist, body.Bands.Chest, body.Bands.Head];
        Assert.All(bands, b => Assert.True(b.TopMetres >= b.BottomMetres));
        Assert.True(body.Bands.Head.TopMetres > body.Bands.Head.BottomMetres + 0.25);
        Assert.All(body.Segments, s => Assert.All(s.Surface.Vertices, v => Assert.True(v.IsFinite)));
        Assert.All(body.Segments, s => Assert.True(body.Still.Mesh(s.Id).Vertices.Min(v => v.Z) > -1e-6, $"{s.Id} is under the ground"));
        foreach (Site site in body.AllSites.Where(s => s.Segment is not SegmentId.Pelvis || spec.Wheelchair is null))
        {
            if (site.Name == "back" && spec.Wheelchair is not null)
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
