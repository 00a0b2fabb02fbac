using SonarGeom.Bodies;

namespace SonarGeom.Tests.Bodies;

public class BodyDimensionsTests
{
    [Theory]
    [InlineData(Sex.Male, 2.4, "Stature is 2.4 m; for the surveyed adults it must be from 1.45 to 2.06 m.")]
    [InlineData(Sex.Female, 1.2, "Stature is 1.2 m; for the surveyed adults it must be from 1.34 to 1.92 m.")]
    [InlineData(Sex.Male, double.NaN, "Stature is NaN m; for the surveyed adults it must be from 1.45 to 2.06 m.")]
    public void Absurd_stature_is_refused_with_what_is_allowed(Sex sex, double stature, string message) =>
        Refused(Wearers.Man with { Sex = sex, StatureMetres = stature }, message);

    [Fact]
    public void Absurd_mass_is_refused_with_what_is_allowed() =>
        Refused(Wearers.Man with { MassKilograms = 300 }, "Mass is 300 kg; for this stature it must be from 48 to 161 kg.");

    [Fact]
    public void Absurd_girth_is_refused() => Refused(Wearers.Man with { WaistGirthMetres = 2.2 }, "Waist girth is 2.2 m; for this stature it must be from");

    [Theory]
    [InlineData(0)]
    [InlineData(100)]
    [InlineData(double.NaN)]
    public void Absurd_percentile_is_refused(double percentile) =>
        Refused(Wearers.Woman with { StaturePercentile = percentile }, "it must be from 1 to 99");

    [Fact]
    public void Children_too_young_for_the_survey_are_refused_and_not_scaled_from_adults() =>
        Refused(Wearers.Man with { AgeYears = 2 }, "Age is 2 years; it must be at least 3, because too few younger children were measured and an adult body is never scaled down.");

    [Fact]
    public void Child_of_adult_size_is_refused() =>
        Refused(Wearers.Man with { AgeYears = 6, StatureMetres = 1.75 }, "Stature is 1.75 m; for the age of 6 years it must be from");

    [Fact]
    public void Contradictions_are_refused()
    {
        Refused(Wearers.Man with { StatureMetres = 1.7, StaturePercentile = 50 }, "both a stature and a percentile");
        Refused(Wearers.Man with { MassKilograms = 80, WaistGirthMetres = 0.9 }, "both a mass and a waist girth");
        Refused(Wearers.Man with { CaneSide = BodySide.Left, Wheelchair = WheelchairKind.Manual }, "both a cane and a wheelchair");
        Refused(Wearers.Man with { SeatHeightMetres = 0.5 }, "a seat height but no wheelchair");
        Refused(Wearers.Man with { FootwearMetres = 0.4 }, "Footwear is 0.4 m; it must be from 0 to 0.12 m.");
        Refused(Wearers.Man with { AgeYears = 12, Wheelchair = WheelchairKind.Manual }, "only seats of adults were surveyed");
    }

    [Fact]
    public void Mass_as_expected_changes_nothing_and_makes_breadths_surer()
    {
        var plain = BodyDimensions.Of(Wearers.Man, Wearers.Tables);
        var weighed = BodyDimensions.Of(Wearers.Man with { MassKilograms = plain.MassKilograms }, Wearers.Tables);
        foreach (BodyMeasure measure in plain.Known)
        {
            Assert.Equal(plain[measure], weighed[measure], 1e-12);
            Assert.True(weighed.Estimate(measure).StandardError <= plain.Estimate(measure).StandardError + 1e-9);
        }

        Assert.True(weighed.Estimate(BodyMeasure.WaistDepth).StandardError < 0.6 * plain.Estimate(BodyMeasure.WaistDepth).StandardError);
    }

    [Fact]
    public void Waist_girth_is_met_and_brings_its_mass()
    {
        var found = BodyDimensions.Of(Wearers.Woman with { WaistGirthMetres = 1.05 }, Wearers.Tables);
        Assert.Equal(1.05, found[BodyMeasure.WaistGirth], 1e-9);
        var weighed = BodyDimensions.Of(Wearers.Woman with { MassKilograms = found.MassKilograms }, Wearers.Tables);
        Assert.Equal(found[BodyMeasure.ChestDepth], weighed[BodyMeasure.ChestDepth], 1e-9);
    }

    [Fact]
    public void Heavier_is_wider_and_not_taller()
    {
        var light = BodyDimensions.Of(Wearers.Man with { MassKilograms = 70 }, Wearers.Tables);
        var heavy = BodyDimensions.Of(Wearers.Man with { MassKilograms = 110 }, Wearers.Tables);
        Assert.True(heavy[BodyMeasure.WaistDepth] > light[BodyMeasure.WaistDepth] + 0.08);
        Assert.True(heavy[BodyMeasure.HipBreadth] > light[BodyMeasure.HipBreadth] + 0.03);
        Assert.Equal(light[BodyMeasure.EyeHeight], heavy[BodyMeasure.EyeHeight], 0.005);
    }

    [Fact]
    public void A_child_has_a_larger_head_and_shorter_legs_for_its_size_than_an_adult()
    {
        var child = BodyDimensions.Of(Wearers.Man with { AgeYears = 6 }, Wearers.Tables);
        var adult = BodyDimensions.Of(Wearers.Man, Wearers.Tables);
        Assert.True(child.IsChild);
        Assert.True(child[BodyMeasure.HeadHeight] / child.StatureMetres > 1.15 * adult[BodyMeasure.HeadHeight] / adult.StatureMetres);
        Assert.True(child[BodyMeasure.TrochanterionHeight] / child.StatureMetres < 0.97 * adult[BodyMeasure.TrochanterionHeight] / adult.StatureMetres);
    }

    [Fact]
    public void An_older_wearer_of_a_percentile_is_shorter_but_a_given_stature_is_kept()
    {
        var young = BodyDimensions.Of(Wearers.Woman, Wearers.Tables);
        Assert.Equal(young.StatureMetres - 0.04, BodyDimensions.Of(Wearers.Woman with { AgeYears = 75 }, Wearers.Tables).StatureMetres, 1e-9);
        Assert.Equal(1.6, BodyDimensions.Of(Wearers.Woman with { AgeYears = 75, StatureMetres = 1.6 }, Wearers.Tables).StatureMetres);
    }

    // At 17 the tables change from children to adults; nothing a layout hangs on may jump by more than people differ.
    [Theory]
    [InlineData(Sex.Male)]
    [InlineData(Sex.Female)]
    public void Tables_of_children_and_adults_meet(Sex sex)
    {
        const double Stature = 1.68;
        var youth = BodyDimensions.Of(new WearerSpec { Sex = sex, AgeYears = 17, StatureMetres = Stature }, Wearers.Tables);
        var adult = BodyDimensions.Of(new WearerSpec { Sex = sex, StatureMetres = Stature }, Wearers.Tables);
        foreach (BodyMeasure measure in new[]
        {
            BodyMeasure.EyeHeight, BodyMeasure.ChinHeight, BodyMeasure.SuprasternaleHeight, BodyMeasure.ChestHeight, BodyMeasure.WaistHeight,
            BodyMeasure.TrochanterionHeight, BodyMeasure.KneeJointHeight, BodyMeasure.CrotchHeight,
        })
        {
            Assert.Equal(adult[measure], youth[measure], 0.035);
        }
    }

    private static void Refused(WearerSpec spec, string message)
    {
        ArgumentException refusal = Assert.ThrowsAny<ArgumentException>(() => Body.Build(spec, Wearers.Tables));
        Assert.Contains(message, refusal.Message, StringComparison.Ordinal);
    }
}
