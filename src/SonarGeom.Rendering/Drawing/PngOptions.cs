using SkiaSharp;

namespace SonarGeom.Rendering.Drawing;

/// <summary>How pictures are packed. Both settings are without loss.</summary>
internal static class PngOptions
{
    /// <summary>Gets the setting for whole figures: mostly flat areas, packed quickly.</summary>
    public static SKPngEncoderOptions Quick { get; } = new(SKPngEncoderFilterFlags.Sub, 3);

    /// <summary>Gets the setting for small rasters inside a vector picture.</summary>
    public static SKPngEncoderOptions Small { get; } = new(SKPngEncoderFilterFlags.NoFilters, 6);
}
