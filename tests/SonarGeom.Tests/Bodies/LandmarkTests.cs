using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Bodies;

public class LandmarkTests
{
    private static readonly string[] FromTheTop =
    [
        "crown", "eye", "tragion left", "chin", "sternum top", "axilla left", "sternum base", "tenth rib", "navel", "trochanter left", "crotch",
        "kneecap left", "mid shin left", "ankle left",
    ];

    public static TheoryData<string> Names => [.. Wearers.Varied.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Landmarks_follow_one_another_from_the_crown_down(string name)
    {
        Body body = Wearers.Build(Wearers.Varied[name] with { Wheelchair = null });
        string[] known = [.. FromTheTop.Where(n => body.Landmarks.ContainsKey(n))];
        Assert.True(known.Length >= 13);
        for (int i = 1; i < known.Length; i++)
        {
            Assert.True(
                body.Landmarks[known[i]].Z < body.Landmarks[known[i - 1]].Z,
                $"{name}: {known[i]} at {body.Landmarks[known[i]].Z:0.000} is not below {known[i - 1]} at {body.Landmarks[known[i - 1]].Z:0.000}");
        }

        // The bust point of women lies about as low as the breastbone ends.
        Assert.InRange(body.Landmarks["chest"].Z, body.Landmarks["tenth rib"].Z, body.Landmarks["axilla left"].Z);
        Assert.All(body.LandmarkErrorsMetres.Values, e => Assert.InRange(e, 0, 0.04));
    }

    [Fact]
    public void Heights_are_the_tables_and_the_shoe()
    {
        Body body = Wearers.Build(Wearers.Man with { StatureMetres = 1.80, FootwearMetres = 0.03 });

        // Regression of the 2012 survey, men: eye = 0.96244 stature - 47.81 mm ± 8.61; crown is the stature.
        Assert.Equal(1.83, body.Landmarks["crown"].Z, 1e-9);
        Assert.Equal((0.96244 * 1.80) - 0.04781 + 0.03, body.Landmarks["eye"].Z, 1e-9);
        Assert.Equal(0.00861, body.LandmarkErrorsMetres["eye"], 1e-5);
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Bands_join_and_rise(string name)
    {
        Body body = Wearers.Build(Wearers.Varied[name]);
        BandSpan[] bands = [body.Bands.Foot, body.Bands.Knee, body.Bands.Waist, body.Bands.Chest, body.Bands.Head];
        Assert.Equal(0, bands[0].BottomMetres);
        for (int i = 0; i < bands.Length; i++)
        {
            Assert.True(bands[i].TopMetres > bands[i].BottomMetres, $"band {i} is empty");
            if (i > 0)
            {
                Assert.Equal(bands[i - 1].TopMetres, bands[i].BottomMetres);
            }
        }

        Assert.Equal(body.ChinHeightMetres - 0.05, body.Bands.Head.BottomMetres, 1e-12);
        Assert.Equal(body.CrownHeightMetres + 0.10, body.Bands.Head.TopMetres, 1e-12);
        Assert.Equal(body.SternumBaseHeightMetres, body.Bands.Chest.BottomMetres, 1e-12);
        Assert.Equal(body.CrotchHeightMetres, body.Bands.Waist.BottomMetres, 1e-12);
        Assert.Equal(body.MidShinHeightMetres, body.Bands.Knee.BottomMetres, 1e-12);
    }

    [Fact]
    public void Bands_sink_with_the_posture()
    {
        Body upright = Wearers.MedianWoman;
        Body stooped = Wearers.Build(Wearers.Woman with { Posture = Posture.Stooped });
        Body bowed = Wearers.Build(Wearers.Woman with { Posture = Posture.HeadBowed(Angle.FromDegrees(30)) });
        Assert.True(stooped.CrownHeightMetres < upright.CrownHeightMetres - 0.03);
        Assert.True(stooped.ChinHeightMetres < upright.ChinHeightMetres - 0.03);
        Assert.True(bowed.ChinHeightMetres < upright.ChinHeightMetres - 0.02);
        Assert.Equal(upright.SternumBaseHeightMetres, bowed.SternumBaseHeightMetres, 1e-12);

        // A stooped wearer's head is ahead of the feet: it meets things first.
        Assert.True(stooped.Still.LandmarkMetres("crown").X > upright.Still.LandmarkMetres("crown").X + 0.15);
    }

    [Fact]
    public void Unknown_names_are_refused_with_the_known_ones()
    {
        Assert.Contains("known are crown", Assert.Throws<ArgumentException>(() => Wearers.MedianMan.Landmark("elbow middle")).Message, StringComparison.Ordinal);
        Assert.Contains("neck pendant", Assert.Throws<ArgumentException>(() => Wearers.MedianMan.Site("forehed")).Message, StringComparison.Ordinal);
        Assert.Equal("belt front left", Wearers.MedianMan.Site("Belt_front-left").Name);
        Assert.Throws<ArgumentException>(() => Wearers.MedianMan.Site("cane grip"));
        Assert.Throws<ArgumentException>(() => Wearers.MedianMan.Neutral.Mesh(SegmentId.Cane));
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Seated_or_standing_no_part_is_below_the_ground(string name)
    {
        Body body = Wearers.Build(Wearers.Varied[name]);
        foreach (PosedBody posed in new[] { body.Neutral, body.Still })
        {
            double lowest = body.Segments.Min(s => posed.Mesh(s.Id).Vertices.Min(v => v.Z));
            Assert.InRange(lowest, -1e-9, 0.02);
        }
    }

    [Fact]
    public void Cane_tip_is_on_the_ground_and_the_hand_at_its_height()
    {
        Body body = Wearers.Build(Wearers.Varied["cane right"]);
        TriangleMesh cane = body.Neutral.Mesh(SegmentId.Cane);
        RigidTransform hand = body.Neutral.WorldFromSegment(SegmentId.Cane);
        Assert.InRange(cane.Vertices.Min(v => v.Z), -0.007, 0.007);
        Assert.Equal((0.54 * body.Dimensions.StatureMetres) + 0.025, hand.Translation.Z, 1e-6);
        Assert.True(hand.Translation.Y < 0);

        // A 1.30 m cane of a 1.70 m user reaches 0.92 m ahead of the hand at 45° (long-cane technique, Sensors 2026 26(8):2396).
        Vec3 tip = cane.Vertices.MaxBy(v => v.X);
        Assert.Equal(0.92 * body.Dimensions.StatureMetres / 1.70, tip.X - hand.Translation.X, 0.06);
    }
}
