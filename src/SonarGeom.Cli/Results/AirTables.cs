using SonarGeom.Air;

namespace SonarGeom.Cli.Results;

/// <summary>One state of the air and what a device assumes about it.</summary>
internal readonly record struct AirRow(AirProperties Air, double AssumedMicrosecondsPerCentimetre);

/// <summary>The figures of the air.</summary>
internal static class AirTables
{
    /// <summary>Gets the table.</summary>
    internal static ResultTable<AirRow> Air { get; } = new(
        new("temperature_c", "air [°C]", r => Cell.Of(r.Air.State.Temperature.DegreesCelsius, 1)),
        new("relative_humidity_percent", "humidity [%]", r => Cell.Of(r.Air.State.RelativeHumidityPercent, 0)),
        new("pressure_pa", null, r => Cell.Of(r.Air.State.PressurePascals, 0)),
        new("frequency_khz", null, r => Cell.Of(r.Air.Frequency.Kilohertz, 3)),
        new("sound_speed_model", null, r => Cell.Of(Words.Code(r.Air.Model))),
        new("sound_speed_m_s", "speed [m/s]", r => Cell.Of(r.Air.SoundSpeedMetresPerSecond, 2)),
        new("wavelength_mm", "wave [mm]", r => Cell.Of(r.Air.WavelengthMetres * 1000, 3)),
        new("density_kg_m3", "density [kg/m³]", r => Cell.Of(r.Air.DensityKilogramsPerCubicMetre, 4)),
        new("impedance_pa_s_m", "impedance [Pa·s/m]", r => Cell.Of(r.Air.ImpedancePascalSecondsPerMetre, 1)),
        new("absorption_db_m", "absorption [dB/m]", r => Cell.Of(r.Air.AbsorptionDecibelsPerMetre, 3)),
        new("absorption_uncertainty_db_m", "± [dB/m]", r => Cell.Of(r.Air.AbsorptionUncertaintyDecibelsPerMetre, 3)),
        new("absorption_accuracy", null, r => Cell.Of(Words.Code(r.Air.AbsorptionAccuracy))),
        new("round_trip_us_cm", "round trip [µs/cm]", r => Cell.Of(r.Air.RoundTripMicrosecondsPerCentimetre, 2)),
        new("assumed_us_cm", null, r => Cell.Of(r.AssumedMicrosecondsPerCentimetre, 2)),
        new("range_error_percent", "range error [%]", r => Cell.Of(
            100 * RoundTrip.RangeErrorFraction(r.AssumedMicrosecondsPerCentimetre, r.Air.SoundSpeedMetresPerSecond), 2)));
}
