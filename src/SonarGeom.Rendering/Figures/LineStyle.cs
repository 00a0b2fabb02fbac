using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Figures;

/// <summary>How a line is broken.</summary>
public enum DashPattern
{
    /// <summary>A full line.</summary>
    Full,

    /// <summary>Long dashes.</summary>
    Dashed,

    /// <summary>Dots.</summary>
    Dotted,

    /// <summary>A long dash and a dot in turn.</summary>
    DashDot,

    /// <summary>Very long dashes.</summary>
    LongDashed,

    /// <summary>A long dash and two dots in turn.</summary>
    DashDotDot,

    /// <summary>Short dashes.</summary>
    ShortDashed,
}

/// <summary>Colour, dash and width of a line.</summary>
/// <param name="Colour">Ink.</param>
/// <param name="Dash">How the line is broken.</param>
/// <param name="WidthPixels">Width at the figure's own size. [px]</param>
public readonly record struct LineStyle(Colour Colour, DashPattern Dash = DashPattern.Full, double WidthPixels = 2.5)
{
    /// <summary>Gets a full line in ink.</summary>
    public static LineStyle Plain => new(Colour.Ink);

    /// <summary>Returns the style of the n-th thing: a colour of the palette with a dash; the first 49 differ.</summary>
    /// <param name="index">Which thing, from 0.</param>
    public static LineStyle At(int index) => new(CategoricalPalette.At(index), (DashPattern)((index + (index / 7)) % 7));

    /// <summary>Returns lengths on and off. [px]</summary>
    internal double[] DashLengths()
    {
        double w = WidthPixels;
        return Dash switch
        {
            DashPattern.Dashed => [5 * w, 3 * w],
            DashPattern.Dotted => [1.2 * w, 2.2 * w],
            DashPattern.DashDot => [6 * w, 2.4 * w, 1.2 * w, 2.4 * w],
            DashPattern.LongDashed => [10 * w, 3 * w],
            DashPattern.DashDotDot => [6 * w, 2.2 * w, 1.2 * w, 2.2 * w, 1.2 * w, 2.2 * w],
            DashPattern.ShortDashed => [2.8 * w, 2 * w],
            _ => [],
        };
    }

    internal Drawing.Stroke ToStroke() => new(Colour, WidthPixels, DashLengths());
}
