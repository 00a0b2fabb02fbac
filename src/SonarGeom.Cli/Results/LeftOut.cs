using System.Text.Json;
using SonarGeom.Obstacles;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Results;

/// <summary>What the model of some obstacles leaves out, told wherever their echoes are.</summary>
internal static class LeftOut
{
    /// <summary>Writes it as sentences, and an empty line after them; nothing when nothing is left out.</summary>
    internal static void WriteText(TextWriter output, IEnumerable<Obstacle> obstacles)
    {
        string[] sentences = Of(obstacles);
        foreach (string sentence in sentences)
        {
            output.WriteLine(Wrapping.Fold(sentence, 100, 0));
        }

        if (sentences.Length > 0)
        {
            output.WriteLine();
        }
    }

    /// <summary>Writes it as an array of sentences.</summary>
    internal static void WriteArray(Utf8JsonWriter json, IEnumerable<Obstacle> obstacles) => json.WriteSentences("left_out", Of(obstacles));

    private static string[] Of(IEnumerable<Obstacle> obstacles)
    {
        ObstacleKind[] kinds = [.. obstacles.Select(o => o.Kind).Distinct()];
        return
        [
            .. kinds.Contains(ObstacleKind.Mesh) ? [Told("Meshes", Findings.MeshesLeaveOut)] : Array.Empty<string>(),
            .. kinds.Contains(ObstacleKind.Foliage) ? [Told("Foliage", Findings.FoliageLeavesOut)] : Array.Empty<string>(),
        ];

        static string Told(string what, string sentence) => $"{what}: {char.ToLowerInvariant(sentence[0])}{sentence[1..]}";
    }
}
