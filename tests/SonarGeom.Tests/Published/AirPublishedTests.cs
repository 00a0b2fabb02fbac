using SonarGeom.Air;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Published;

public class AirPublishedTests
{
    // IEC 61094-2:2009, Annex F, Table F.1 (seen second-hand): Cramer's polynomial with the saturation pressure of Davis.
    // Tolerance: one unit of the last printed digit.
    [Theory]
    [InlineData(23, 101325, 50, 345.86652, 1.1860848)]
    [InlineData(20, 80000, 65, 344.38267, 0.9441589)]
    public void Speed_and_density_match_the_microphone_standard(
        double celsius, double pascals, double humidity, double speed, double density)
    {
        var air = new AirState(Temperature.FromDegreesCelsius(celsius), humidity, pascals);
        Assert.Equal(speed, SoundSpeed.InMetresPerSecond(air), 1e-5);
        Assert.Equal(density, AirDensity.KilogramsPerCubicMetre(air), 1e-7);
    }

    // The same table gives 410.23 Pa·s/m at 23 °C and 50 % to two decimals (seen second-hand).
    [Fact]
    public void Impedance_matches_the_microphone_standard() =>
        Assert.Equal(410.23, AirProperties.Of(Air(23), Frequency.FromKilohertz(40)).ImpedancePascalSecondsPerMetre, 5e-3);

    // Cramer 1993, dry air: 331.45 m/s at 0 °C and 343.36 m/s at 20 °C, quoted in public text for 0.0314 % of carbon dioxide.
    // Tolerance 0.02: the quotes round to 0.01 and do not all state the carbon dioxide used.
    [Theory]
    [InlineData(0, 331.45)]
    [InlineData(20, 343.36)]
    public void Dry_air_matches_the_quoted_values_of_cramer(double celsius, double speed) =>
        Assert.Equal(speed, SoundSpeed.InMetresPerSecond(Air(celsius, 0)), 0.02);

    // IEC 61094-3:2016 Table B.1, printed to 4 decimals: half of the last digit and the rounding of the comparison.
    // ISO 9613-1:1993 Table 1, printed to 3 digits: half of the last digit is up to 0.5 %, plus rounding in the listing.
    [Fact]
    public void Absorption_matches_the_tables_of_two_standards()
    {
        PublishedTable table = PublishedTable.Read("absorption_published.csv");
        Assert.Equal(180, table.Rows.Count);
        foreach (PublishedTable.Row row in table.Rows)
        {
            double alpha = AirAbsorption.DecibelsPerMetre(
                Air(row["t_degC"], row["RH_percent"]), Frequency.FromHertz(row["f_Hz"]));
            double published = row["alpha"];
            bool perMetre = row.Text("unit") == "dB/m";
            double computed = perMetre ? alpha : 1000 * alpha;
            double tolerance = perMetre ? 5.5e-5 : 0.006 * published;
            Assert.True(Math.Abs(computed - published) <= tolerance, $"{row}: computed {computed}");
        }
    }

    // Lawrence and Simmons, J. Acoust. Soc. Am. 71, 585 (1982), abstract (seen second-hand): 0.7 dB/m at 30 kHz and 8 dB/m at
    // 200 kHz in laboratory air of 25 °C and 50 %. A plausibility bound, no precision test: the formula lies above the
    // measurements, and the working uncertainty of ±25 % must cover the distance.
    [Theory]
    [InlineData(30, 0.7)]
    [InlineData(200, 8)]
    public void Absorption_is_near_ultrasonic_measurements(double kilohertz, double measured)
    {
        double computed = AirAbsorption.DecibelsPerMetre(Air(25), Frequency.FromKilohertz(kilohertz));
        Assert.InRange(computed / measured, 1.0, 1.35);
        Assert.True(computed * (1 - AirAbsorption.WorkingUncertaintyFraction) <= measured);
    }

    // Common practice: firmware divides the echo time by 58 µs/cm. Exact at 22.79 °C by ISO 9613-1 (A.5), 0.5 % off at 20 °C.
    [Fact]
    public void Round_trip_at_20_degrees_is_near_the_trade_constant()
    {
        double dry = RoundTrip.MicrosecondsPerCentimetre(SoundSpeed.InMetresPerSecond(Air(20), SoundSpeedModel.DryIdealGas));
        double humid = AirProperties.Of(Air(20), Frequency.FromKilohertz(40)).RoundTripMicrosecondsPerCentimetre;
        Assert.Equal(58.28, dry, 5e-3);
        Assert.InRange(humid, 58.0, 58.3);
        Assert.Equal(0, RoundTrip.RangeErrorFraction(58, SoundSpeed.InMetresPerSecond(Air(22.79), SoundSpeedModel.DryIdealGas)), 2e-5);
    }

    [Fact]
    public void Absorption_agrees_with_an_independent_program()
    {
        PublishedTable table = PublishedTable.Read("absorption_computed.csv");
        foreach (PublishedTable.Row row in table.Rows)
        {
            var air = new AirState(Temperature.FromDegreesCelsius(row["t_degC"]), row["RH_percent"], row["p_Pa"]);
            var frequency = Frequency.FromHertz(row["f_Hz"]);

            // The table prints ten digits.
            Near(row["h_molar_percent"], AirAbsorption.MolarWaterVapourPercent(air), 1e-9, row);
            Near(row["alpha_dB_per_m"], AirAbsorption.DecibelsPerMetre(air, frequency), 1e-9, row);
            AbsorptionAccuracy expected = row.Text("iso9613_stated_accuracy") switch
            {
                "10%" => AbsorptionAccuracy.TenPercent,
                "20%" => AbsorptionAccuracy.TwentyPercent,
                _ => AbsorptionAccuracy.Outside,
            };
            Assert.True(expected == AirAbsorption.AccuracyOf(air, frequency), row.ToString());
        }
    }

    [Fact]
    public void Speed_and_density_agree_with_an_independent_program()
    {
        PublishedTable table = PublishedTable.Read("speed_of_sound_computed.csv");
        foreach (PublishedTable.Row row in table.Rows)
        {
            var air = new AirState(
                Temperature.FromDegreesCelsius(row["t_degC"]), row["RH_percent"], row["p_Pa"], row["xCO2"]);
            double dry = SoundSpeed.InMetresPerSecond(air, SoundSpeedModel.DryIdealGas);
            Near(row["c_cramer_m_s"], SoundSpeed.Cramer(air), 1e-9, row);
            Near(row["c_iso9613_m_s"], dry, 1e-9, row);
            Near(row["c_simple_m_s"], SoundSpeed.InMetresPerSecond(air, SoundSpeedModel.Linear), 1e-9, row);
            Near(row["rho_cipm_kg_m3"], AirDensity.KilogramsPerCubicMetre(air), 1e-9, row);
            Near(row["rho_c_cramer_Pa_s_m"], AirDensity.KilogramsPerCubicMetre(air) * SoundSpeed.Cramer(air), 1e-9, row);
            Near(row["roundtrip_us_per_cm_iso"], RoundTrip.MicrosecondsPerCentimetre(dry), 1e-9, row);
            Assert.Equal(row["range_error_percent_of_fixed_58us_cm"], 100 * RoundTrip.RangeErrorFraction(58, dry), 1e-7);
            Assert.Equal(row.Text("cramer_in_range_0_30C") is "1" or "True" or "true" or "yes", SoundSpeed.IsWithinCramerRange(air));
        }
    }

    private static AirState Air(double celsius, double humidity = 50) =>
        new(Temperature.FromDegreesCelsius(celsius), humidity);

    private static void Near(double expected, double actual, double relative, PublishedTable.Row row) =>
        Assert.True(Math.Abs(actual - expected) <= relative * Math.Abs(expected), $"{row}: expected {expected}, got {actual}");
}
