using SonarGeom.Bodies;
using SonarGeom.Files.Shapes;
using SonarGeom.Quantities;

namespace SonarGeom.Files.Bodies;

/// <summary>How wearers are written.</summary>
internal static class WearerKind
{
    private const double PerMetre = 1000;

    /// <summary>Gets the kind.</summary>
    internal static DocumentKind<WearerSpec> Kind { get; } = new(
        "wearer",
        "bodies",
        "Who wears the sensors: what is known of size and posture; the body tables give the rest.",
        Describe);

    private static Func<MemberValues, WearerSpec> Describe(MemberSet m)
    {
        Member<string> name = m.Required("name", new TextShape(60), "The name under which results are told.");
        Member<string> description = m.Optional("description", new TextShape(1000, mayBeEmpty: true), string.Empty, "Who that is, in a sentence.");
        Member<string> source = m.Optional("source", new TextShape(1000, mayBeEmpty: true), string.Empty, "Where the numbers given here come from.");
        Member<Sex> sex = m.Required("sex", ChoiceShape.OfEnum<Sex>(), "The sex whose tables are used.");
        Member<double> stature = m.Maybe("stature_m", new NumberShape(0.5, 2.5), "Standing height without shoes. [m]");
        Member<double> percentile = m.Maybe("stature_percentile", new NumberShape(1, 99), "In place of the stature: its percentile among adults, or among children of the age; 50 when both are left out. [%]");
        Member<double> mass = m.Maybe("mass_kg", new NumberShape(5, 400), "Body mass without clothes; as expected for the stature when left out. [kg]");
        Member<double> girth = m.Maybe("waist_girth_m", new NumberShape(0.3, 2.5), "In place of the mass: the girth at navel level. [m]");
        Member<double> age = m.Maybe("age_years", new NumberShape(0, 110), "The age; below 18 the tables of children are used, and from 70 a stature read from a percentile is lowered. [years]");
        Member<double> footwear = m.Maybe("footwear_mm", new NumberShape(0, 120), "Thickness of the shoe sole under the heel; as tabled when left out. [mm]");
        Member<double> flexion = m.Optional("trunk_flexion_deg", new NumberShape(0, 60), 0, "How far the trunk leans forward. [°]");
        Member<double> down = m.Optional("head_down_deg", new NumberShape(-30, 60), 0, "How far the face looks down. [°]");
        Member<double> slump = m.Optional("slump_mm", new NumberShape(0, 60), 0, "How much relaxed standing or sitting shortens the trunk. [mm]");
        Member<WheelchairKind> wheelchair = m.Maybe("wheelchair", ChoiceShape.OfEnum<WheelchairKind>(), "The kind of wheelchair; left out for a wearer on foot.");
        Member<double> seat = m.Maybe("seat_height_m", new NumberShape(0.35, 0.75), "Height of the occupied seat; as tabled when left out. [m]");
        Member<BodySide> cane = m.Maybe("cane_side", ChoiceShape.OfEnum<BodySide>(), "The side on which a long cane is carried; left out for none.");
        m.AtMostOne(stature, percentile);
        m.AtMostOne(mass, girth);
        m.AtMostOne(wheelchair, cane);
        return v => new WearerSpec
        {
            Name = name.From(v),
            Description = description.From(v),
            Source = source.From(v),
            Sex = sex.From(v),
            StatureMetres = stature.OrNull(v),
            StaturePercentile = percentile.OrNull(v),
            MassKilograms = mass.OrNull(v),
            WaistGirthMetres = girth.OrNull(v),
            AgeYears = age.OrNull(v),
            FootwearMetres = footwear.OrNull(v) / PerMetre,
            Posture = new Posture(Angle.FromDegrees(flexion.From(v)), Angle.FromDegrees(down.From(v)), slump.From(v) / PerMetre),
            Wheelchair = wheelchair.OrNull(v),
            SeatHeightMetres = seat.OrNull(v),
            CaneSide = cane.OrNull(v),
        };
    }
}
