using System.Text.Json;

namespace SonarGeom.Cli.Tests.Commands;

public sealed class AirCommandTests
{
    // Golden: reviewed by eye. 343.99 m/s at 20 °C and 50 %, and 1.318 dB/m at 40 kHz, agree with the published checks of the model;
    // 58.14 µs/cm against the 58 of the trade is a range error of +0.24 %.
    [Fact]
    public void TheTableIsAsApproved() => Assert.Equal(
        """
        temperature_c,relative_humidity_percent,pressure_pa,frequency_khz,sound_speed_model,sound_speed_m_s,wavelength_mm,density_kg_m3,impedance_pa_s_m,absorption_db_m,absorption_uncertainty_db_m,absorption_accuracy,round_trip_us_cm,assumed_us_cm,range_error_percent
        0.0,50,101325,40.000,humid,331.60,8.290,1.2916,428.3,0.450,0.112,ten_percent,60.31,58.00,3.99
        20.0,50,101325,40.000,humid,343.99,8.600,1.1993,412.5,1.318,0.330,ten_percent,58.14,58.00,0.24

        """,
        Workbench.Run("air", "--from-c", "0", "--to-c", "20", "--step-c", "20", "--csv").Output);

    [Fact]
    public void TextCsvAndJsonSayTheSame()
    {
        string[] options = ["air", "--from-c", "-20", "--to-c", "50", "--step-c", "35", "--humidity-percent", "0"];
        JsonElement json = Workbench.Run([.. options, "--json"]).Json;
        string text = Workbench.Run(options).Output;
        Assert.Equal(3, json.GetProperty("air").GetArrayLength());
        foreach (JsonElement row in json.GetProperty("air").EnumerateArray())
        {
            Assert.Contains(row.GetProperty("sound_speed_m_s").GetDouble().ToString("0.00", System.Globalization.CultureInfo.InvariantCulture), text, StringComparison.Ordinal);
        }

        Assert.NotEqual(0, json.GetProperty("flags").GetArrayLength());
        Assert.Contains("outside the range of Cramer", text, StringComparison.Ordinal);
    }
}
