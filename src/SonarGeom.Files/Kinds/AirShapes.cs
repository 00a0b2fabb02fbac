using SonarGeom.Air;
using SonarGeom.Files.Shapes;
using SonarGeom.Quantities;

namespace SonarGeom.Files.Kinds;

/// <summary>How the air is written.</summary>
internal static class AirShapes
{
    /// <summary>Gets the choice of formula for the speed of sound.</summary>
    internal static ChoiceShape<SoundSpeedModel> SpeedModel { get; } = ChoiceShape.OfEnum<SoundSpeedModel>();

    /// <summary>Gets the shape of the state of the air.</summary>
    internal static ObjectShape<AirState> State { get; } = new("air", "Still, uniform air.", m =>
    {
        Func<MemberValues, AirState> state = Members(m);
        return state;
    });

    /// <summary>Gets the shape of the state of the air together with the formula for the speed of sound.</summary>
    internal static ObjectShape<(AirState State, SoundSpeedModel Model)> StateAndModel { get; } = new("air_and_speed", "Still, uniform air, and how the speed of sound in it is computed.", m =>
    {
        Func<MemberValues, AirState> state = Members(m);
        Member<SoundSpeedModel> model = m.Optional(
            "sound_speed_model", SpeedModel, SoundSpeedModel.Humid, "The formula for the speed of sound; humid is Cramer 1993 within its range and the humid ideal gas outside it.");
        return v => (state(v), model.From(v));
    });

    private static Func<MemberValues, AirState> Members(MemberSet m)
    {
        Member<double> temperature = m.Optional(
            "temperature_c", new NumberShape(AirState.ColdestDegreesCelsius, AirState.WarmestDegreesCelsius), 20, "The temperature of the air. [°C]");
        Member<double> humidity = m.Optional("relative_humidity_percent", new NumberShape(0, 100), 50, "The relative humidity. [%]");
        Member<double> pressure = m.Optional("pressure_pa", new NumberShape(30_000, 200_000), AirState.StandardPressurePascals, "The static pressure. [Pa]");
        return v => new AirState(Temperature.FromDegreesCelsius(temperature.From(v)), humidity.From(v), pressure.From(v));
    }
}
