using System.Collections.Immutable;

namespace SonarGeom.Cli.Results;

/// <summary>Obstacles on whose echo no verdict may rest.</summary>
internal static class WithheldTables
{
    /// <summary>Gets them, one a row.</summary>
    internal static ResultTable<(string ObstacleId, string Reason)> All { get; } = new(
        new("obstacle", "obstacle", w => Cell.Of(w.ObstacleId)),
        new("withheld_because", "no verdict because", w => Cell.Of(w.Reason)));

    /// <summary>Writes them as sentences, and an empty line after them; nothing when there are none.</summary>
    internal static void WriteText(TextWriter output, ImmutableArray<(string ObstacleId, string Reason)> withheld)
    {
        foreach ((string id, string reason) in withheld)
        {
            output.WriteLine(Wrapping.Fold($"No verdict on {id}: {reason}", 100, 0));
        }

        if (!withheld.IsEmpty)
        {
            output.WriteLine();
        }
    }
}
