using SonarGeom.Bodies;
using SonarGeom.Tests.Bodies;

namespace SonarGeom.Tests.Published;

public class BodyPublishedTests
{
    // Gordon et al. 2014, NATICK/TR-15/007, public data file: stature percentiles in millimetres, to the rounding of the file.
    [Theory]
    [InlineData(Sex.Male, 5, 1648)]
    [InlineData(Sex.Male, 50, 1755)]
    [InlineData(Sex.Male, 95, 1870)]
    [InlineData(Sex.Female, 5, 1525)]
    [InlineData(Sex.Female, 50, 1626)]
    [InlineData(Sex.Female, 95, 1740)]
    public void Adult_stature_percentiles_are_the_survey_s(Sex sex, double percentile, double millimetres) =>
        Assert.Equal(millimetres, 1000 * Body(sex, percentile: percentile).Dimensions.StatureMetres, 0.05);

    // US growth charts 2000: 5th, 50th and 95th percentile of stature at ten years, in millimetres.
    [Theory]
    [InlineData(Sex.Male, 5, 1282)]
    [InlineData(Sex.Male, 50, 1388)]
    [InlineData(Sex.Male, 95, 1499)]
    [InlineData(Sex.Female, 5, 1275)]
    [InlineData(Sex.Female, 50, 1382)]
    [InlineData(Sex.Female, 95, 1496)]
    public void Child_stature_percentiles_are_the_charts(Sex sex, double percentile, double millimetres) =>
        Assert.Equal(millimetres, 1000 * Body(sex, 10, percentile).Dimensions.StatureMetres, 0.5);

    // Two surveys of one country must agree where they meet: growth charts at 20 years (1650, 1768, 1885 and 1527, 1633, 1740 mm)
    // against the adults. The soldiers of 2012 are up to 15 mm shorter in the upper half; 20 mm allows for who was measured.
    [Theory]
    [InlineData(Sex.Male, 5, 1650)]
    [InlineData(Sex.Male, 50, 1768)]
    [InlineData(Sex.Male, 95, 1885)]
    [InlineData(Sex.Female, 5, 1527)]
    [InlineData(Sex.Female, 50, 1633)]
    [InlineData(Sex.Female, 95, 1740)]
    public void Adults_agree_with_the_growth_charts_at_twenty(Sex sex, double percentile, double millimetres) =>
        Assert.Equal(millimetres, 1000 * Body(sex, percentile: percentile).Dimensions.StatureMetres, 20.0);

    // Drillis and Contini 1966, fractions of stature (from memory): ankle 0.039, knee 0.285, elbow 0.630, wrist 0.485, fingertip 0.377,
    // chin 0.870, eye 0.936, shoulder 0.818. Their people were others; all agree within 0.018.
    [Theory]
    [InlineData("ankle left", 0.039)]
    [InlineData("knee left", 0.285)]
    [InlineData("elbow left", 0.630)]
    [InlineData("wrist left", 0.485)]
    [InlineData("fingertip left", 0.377)]
    [InlineData("chin", 0.870)]
    [InlineData("eye", 0.936)]
    [InlineData("acromion left", 0.818)]
    public void Heights_are_near_the_classic_fractions_of_stature(string landmark, double fraction)
    {
        foreach (Sex sex in Enum.GetValues<Sex>())
        {
            Body body = SonarGeom.Bodies.Body.Build(new WearerSpec { Sex = sex, FootwearMetres = 0 }, Wearers.Tables);
            Assert.Equal(fraction, body.Landmarks[landmark].Z / body.Dimensions.StatureMetres, 0.018);
        }
    }

    // Sitting height over stature of Dutch children of 1997, medians (Fredriks et al. 2005, Arch Dis Child 90:807-812, seen
    // second-hand). Americans of 1975-77 sit up to 0.009 higher; 0.012.
    [Theory]
    [InlineData(8, 0.531, 0.531)]
    [InlineData(10, 0.520, 0.522)]
    [InlineData(12, 0.513, 0.516)]
    [InlineData(14, 0.508, 0.518)]
    [InlineData(16, 0.512, 0.524)]
    public void Children_have_the_trunk_length_of_another_survey(double age, double boys, double girls)
    {
        Assert.Equal(boys, Share(Sex.Male), 0.012);
        Assert.Equal(girls, Share(Sex.Female), 0.012);

        double Share(Sex sex)
        {
            BodyDimensions d = Body(sex, age).Dimensions;
            return d[BodyMeasure.SittingHeight] / d.StatureMetres;
        }
    }

    // Heights of wheelchair users' eyes worked out from a survey of occupied seats and the sitting heights of the adults less 40 mm
    // of slump: manual 1278 and 1193 mm, powered 1321 and 1231 mm (men, women); top of the head 1391, 1302, 1435, 1340 mm.
    [Theory]
    [InlineData(WheelchairKind.Manual, Sex.Male, 1278, 1391)]
    [InlineData(WheelchairKind.Manual, Sex.Female, 1193, 1302)]
    [InlineData(WheelchairKind.Powered, Sex.Male, 1321, 1435)]
    [InlineData(WheelchairKind.Powered, Sex.Female, 1231, 1340)]
    public void Wheelchair_users_look_from_the_derived_heights(WheelchairKind kind, Sex sex, double eye, double crown)
    {
        // The mean stature, because the derived heights are means; 1 mm for the rounding of the tables.
        double mean = Wearers.Tables.AdultPercentiles[(BodyMeasure.Stature, sex)].Mean;
        Body body = SonarGeom.Bodies.Body.Build(new WearerSpec { Sex = sex, StatureMetres = mean, Wheelchair = kind }, Wearers.Tables);
        Assert.Equal(eye, 1000 * body.Landmarks["eye"].Z, 1.0);
        Assert.Equal(crown, 1000 * body.Landmarks["crown"].Z, 1.0);
    }

    // A tall man in shoes, bounce of walking included, stays under the 2030 mm of clear height that the ADA 2010 Standards (307.4)
    // ask for; 1870 + 25 + 23 = 1918 mm at the fastest walk.
    [Fact]
    public void A_tall_man_walks_under_the_published_clear_height()
    {
        Body body = Body(Sex.Male, percentile: 95);
        double top = SonarGeom.Walks.SwayEnvelope.Of(body, 1.67).PoseAt(0.3).Mesh(SegmentId.Head).Vertices.Max(v => v.Z);
        Assert.Equal(1.918, top, 0.003);
        Assert.True(top < 2.030);
    }

    private static Body Body(Sex sex, double? age = null, double percentile = 50) =>
        SonarGeom.Bodies.Body.Build(new WearerSpec { Sex = sex, AgeYears = age, StaturePercentile = percentile }, Wearers.Tables);
}
