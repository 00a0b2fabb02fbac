using SonarGeom.Rendering.Figures;

namespace SonarGeom.Cli.Reports;

/// <summary>A picture that a page shows: as SVG in the page, as PNG and SVG beside it.</summary>
/// <param name="Stem">Name of its files, without the ending.</param>
/// <param name="Figure">What is drawn.</param>
internal sealed record Picture(string Stem, Figure Figure)
{
    /// <summary>Draws pictures, each once as PNG and once as SVG, on all processors.</summary>
    /// <returns>The drawn pictures, in the same order.</returns>
    internal static DrawnPicture[] Draw(IReadOnlyList<Picture> pictures)
    {
        var drawn = new DrawnPicture[pictures.Count];
        Parallel.For(0, pictures.Count, i =>
            drawn[i] = new DrawnPicture(pictures[i], FigureWriter.Png(pictures[i].Figure), FigureWriter.SvgBytes(pictures[i].Figure)));
        return drawn;
    }
}

/// <summary>A picture with its bytes.</summary>
/// <param name="Picture">The picture.</param>
/// <param name="Png">The PNG file.</param>
/// <param name="Svg">The SVG file.</param>
internal sealed record DrawnPicture(Picture Picture, byte[] Png, byte[] Svg)
{
    /// <summary>Gets both files.</summary>
    internal IEnumerable<ReportFile> Files => [new($"{Picture.Stem}.png", Png), new($"{Picture.Stem}.svg", Svg)];
}
