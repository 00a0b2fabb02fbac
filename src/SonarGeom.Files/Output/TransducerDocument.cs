using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Files.Output;

/// <summary>Writes a transducer as a file that can be read back.</summary>
public static class TransducerDocument
{
    // Degrees and plus-minus signs stay readable.
    private static readonly JsonWriterOptions Options = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Returns the document.</summary>
    /// <param name="transducer">A transducer with round pistons.</param>
    /// <exception cref="ArgumentException">A beam is not that of a round piston.</exception>
    public static string Of(Transducer transducer)
    {
        ArgumentNullException.ThrowIfNull(transducer);
        using var buffer = new MemoryStream();
        using (var json = new Utf8JsonWriter(buffer, Options))
        {
            json.WriteStartObject();
            json.WriteString("name", transducer.Name);
            json.WriteString("description", transducer.Description);
            Number(json, "nominal_frequency_khz", transducer.NominalFrequency.Kilohertz, 6);
            Beam(json, "transmit", transducer.Transmit);
            Beam(json, "receive", transducer.Receive);
            Place(json, "transmitter_offset_m", transducer.TransmitterOffsetMetres);
            Place(json, "receiver_offset_m", transducer.ReceiverOffsetMetres);
            Number(json, "source_level_db_re20uPa_at_1m", transducer.SourceLevelDecibels, 3);
            json.WriteStartArray("threshold");
            foreach (ThresholdPoint point in transducer.Threshold.Points)
            {
                json.WriteStartObject();
                Number(json, "time_ms", point.TimeSeconds * 1000, 6);
                Number(json, "level_db_re20uPa", point.LevelDecibels, 3);
                json.WriteEndObject();
            }

            json.WriteEndArray();
            Number(json, "noise_level_db_re20uPa", transducer.NoiseLevelDecibels, 3);
            json.WriteNumber("burst_cycles", transducer.BurstCycles);
            Number(json, "transmitter_q", transducer.TransmitterQ, 6);
            Number(json, "receiver_q", transducer.ReceiverQ, 6);
            Number(json, "blanking_ms", transducer.BlankingSeconds * 1000, 6);
            Number(json, "ring_down_ms", transducer.RingDownSeconds * 1000, 6);
            Number(json, "listening_window_ms", transducer.ListeningWindowSeconds * 1000, 6);
            Number(json, "figure_of_merit_db", transducer.LateFigureOfMeritDecibels, 2);
            json.WriteStartObject("evidence");
            json.WriteString("range_target", transducer.Evidence.RangeTarget);
            json.WriteString("confidence", transducer.Evidence.Confidence);
            Number(json, "figure_of_merit_uncertainty_db", transducer.Evidence.FigureOfMeritUncertaintyDecibels, 3);
            json.WriteString("source", transducer.Evidence.Source);
            json.WriteEndObject();
            json.WriteEndObject();
        }

        return Encoding.UTF8.GetString(buffer.GetBuffer(), 0, (int)buffer.Length) + "\n";
    }

    private static void Beam(Utf8JsonWriter json, string name, Directivity beam)
    {
        if (beam is not CircularPiston piston)
        {
            throw new ArgumentException($"The beam is {beam.Description}; only that of a round piston is written.", nameof(beam));
        }

        json.WriteStartObject(name);
        json.WriteString("kind", "circular_piston");
        Number(json, "radius_mm", piston.RadiusMetres * 1000, 4);
        json.WriteEndObject();
    }

    private static void Place(Utf8JsonWriter json, string name, Vec3 place)
    {
        json.WriteStartArray(name);
        foreach (double value in new[] { place.X, place.Y, place.Z })
        {
            json.WriteNumberValue(Math.Round(value, 9) + 0.0);
        }

        json.WriteEndArray();
    }

    private static void Number(Utf8JsonWriter json, string name, double value, int decimals) => json.WriteNumber(name, Math.Round(value, decimals) + 0.0);
}
