using SonarGeom.Files.Output;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Cli.Results;

/// <summary>Writes one picture as PNG and SVG.</summary>
internal static class FigureFiles
{
    /// <summary>Writes both files.</summary>
    internal static void Write(OutputFolder folder, string stem, Figure figure)
    {
        folder.WriteBytes($"{stem}.png", FigureWriter.Png(figure));
        folder.WriteBytes($"{stem}.svg", FigureWriter.SvgBytes(figure));
    }
}
