using System.Text;
using System.Text.Encodings.Web;
using System.Text.Json;
using SonarGeom.Bodies;
using SonarGeom.Cli.Shell;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>Writes a result as one JSON object that names the tool, its version and, where files were read, their hash.</summary>
internal static class JsonResult
{
    // Umlauts, degrees and micro signs stay readable; the text is never put into a page unescaped.
    private static readonly JsonWriterOptions Options = new() { Indented = true, NewLine = "\n", Encoder = JavaScriptEncoder.UnsafeRelaxedJsonEscaping };

    /// <summary>Writes a result to a stream.</summary>
    internal static void Write(Stream stream, string kind, string? inputsHash, Action<Utf8JsonWriter> members)
    {
        using (var json = new Utf8JsonWriter(stream, Options))
        {
            json.WriteStartObject();
            json.WriteString("tool", "sonargeom");
            json.WriteString("version", Tool.Version);
            json.WriteString("result", kind);
            if (inputsHash is not null)
            {
                json.WriteString("inputs_sha256", inputsHash);
            }

            members(json);
            json.WriteEndObject();
        }

        stream.WriteByte((byte)'\n');
    }

    /// <summary>Writes a result as text.</summary>
    internal static void Write(TextWriter output, string kind, string? inputsHash, Action<Utf8JsonWriter> members)
    {
        using var buffer = new MemoryStream();
        Write(buffer, kind, inputsHash, members);
        output.Write(Encoding.UTF8.GetString(buffer.GetBuffer(), 0, (int)buffer.Length));
    }

    /// <summary>Writes whose result it is: scenario, layout and wearer.</summary>
    internal static void WriteSubject(this Utf8JsonWriter json, Scenario scenario, WearerSpec wearer)
    {
        json.WriteString("scenario", scenario.Name);
        json.WriteString("layout", scenario.Layout.Name);
        json.WriteString("wearer", wearer.Name);
    }

    /// <summary>Writes a list of sentences.</summary>
    internal static void WriteSentences(this Utf8JsonWriter json, string name, IEnumerable<string> sentences)
    {
        json.WriteStartArray(name);
        foreach (string sentence in sentences)
        {
            json.WriteStringValue(sentence);
        }

        json.WriteEndArray();
    }
}
