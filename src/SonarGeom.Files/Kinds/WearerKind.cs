using SonarGeom.Bodies;
using SonarGeom.Files.Shapes;
using SonarGeom.Quantities;

namespace SonarGeom.Files.Kinds;

/// <summary>How wearers are written.</summary>
internal static class WearerKind
{
    private static readonly WordOrObjectShape<Posture> Posture = new(
        new ChoiceShape<Posture>(
        [
            ("upright", SonarGeom.Bodies.Posture.Upright),
            ("stooped", SonarGeom.Bodies.Posture.Stooped),
            ("head_bowed", SonarGeom.Bodies.Posture.HeadBowed(Angle.FromDegrees(HeadBowedDegrees))),
        ]),
        new ObjectShape<Posture>("posture", "How trunk and head are held.", m =>
        {
            Member<double> trunk = m.Optional("trunk_flexion_deg", new NumberShape(0, 60), 0, "The forward lean of the trunk above the waist. [°]");
            Member<double> head = m.Optional("head_down_deg", new NumberShape(-30, 60), 0, "How far the face looks down from the horizontal. [°]");
            Member<double> slump = m.Optional("slump_m", new NumberShape(0, 0.06), 0, "How much the trunk is shortened by relaxed standing or sitting. [m]");
            return v => new Posture(Angle.FromDegrees(trunk.From(v)), Angle.FromDegrees(head.From(v)), slump.From(v));
        }));

    // The upper end of what is assumed for blind walkers, 0° to 25°.
    private const double HeadBowedDegrees = 25;

    /// <summary>Gets the kind.</summary>
    internal static DocumentKind<WearerSpec> Kind { get; } = new(
        "wearer",
        "wearers",
        "What is known about a wearer; the rest follows from survey tables.",
        Describe);

    private static Func<MemberValues, WearerSpec> Describe(MemberSet m)
    {
        Member<string> name = m.Required("name", new TextShape(60), "The name under which results are told.");
        Member<string> description = m.Optional("description", new TextShape(1000, mayBeEmpty: true), string.Empty, "Who that is, in a sentence.");
        Member<string> source = m.Optional("source", new TextShape(1000, mayBeEmpty: true), string.Empty, "Where the numbers given here come from.");
        Member<Sex> sex = m.Optional("sex", ChoiceShape.OfEnum<Sex>(), Sex.Male, "The sex whose survey tables are used.");
        Member<double> stature = m.Maybe("stature_m", new NumberShape(0.6, 2.5), "The standing height without shoes. [m]");
        Member<double> percentile = m.Maybe("stature_percentile", new NumberShape(1, 99), "In place of the stature: its percentile; 50 when neither is given. [%]");
        Member<double> mass = m.Maybe("mass_kg", new NumberShape(5, 300), "The mass without clothes; as expected for the stature when left out. [kg]");
        Member<double> girth = m.Maybe("waist_girth_m", new NumberShape(0.3, 2.5), "In place of the mass: the girth at navel level. [m]");
        Member<double> age = m.Maybe("age_years", new NumberShape(0, 110), "The age; an adult when left out, a child below 18. [years]");
        Member<double> footwear = m.Maybe("footwear_m", new NumberShape(0, 0.12), "The thickness of the sole under the heel; as tabled when left out. [m]");
        Member<Posture> posture = m.Optional("posture", Posture, SonarGeom.Bodies.Posture.Upright, "upright", "How trunk and head are held.");
        Member<WheelchairKind> wheelchair = m.Maybe("wheelchair", ChoiceShape.OfEnum<WheelchairKind>(), "The kind of wheelchair; on foot when left out.");
        Member<double> seat = m.Maybe("seat_height_m", new NumberShape(0.35, 0.75), "The height of the occupied seat of a wheelchair; as tabled when left out. [m]");
        Member<BodySide> cane = m.Maybe("cane_side", ChoiceShape.OfEnum<BodySide>(), "The hand that holds a long cane; no cane when left out.");
        Member<BodySide> dog = m.Maybe("guide_dog_side", ChoiceShape.OfEnum<BodySide>(), "The side on which a guide dog goes, whose harness that hand holds; no dog when left out.");
        m.AtMostOne(stature, percentile);
        m.AtMostOne(mass, girth);
        m.AtMostOne(cane, wheelchair);
        m.AtMostOne(dog, wheelchair);
        return v =>
        {
            if (seat.IsGivenIn(v) && !wheelchair.IsGivenIn(v))
            {
                v.Fault(seat, "seat_height_m is given without wheelchair; give both or neither.");
            }

            WearerSpec wearer = new()
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
                FootwearMetres = footwear.OrNull(v),
                Posture = posture.From(v),
                Wheelchair = wheelchair.OrNull(v),
                SeatHeightMetres = seat.OrNull(v),
                CaneSide = cane.OrNull(v),
                GuideDogSide = dog.OrNull(v),
            };
            if (v.Reading.ChecksBodies && v.Reading.BodyOf(wearer, out string refusal) is null)
            {
                v.Fault($"{wearer.Name} cannot be built: {refusal}");
            }

            return wearer;
        };
    }
}
