namespace SonarGeom.Rendering.Colours;

/// <summary>A scale that turns a share from 0 to 1 into a colour.</summary>
/// <remarks>
/// Lightness alone tells the order, evenly spaced in OKLab, so that the scale still reads in greyscale print and with
/// any colour-vision deficiency; hue only helps. Both scales are constructed here and not taken from anywhere.
/// </remarks>
public sealed class ColourScale
{
    private const int Steps = 512;

    private readonly Colour[] _table;

    private ColourScale(string name, bool isDiverging, Colour[] table)
    {
        Name = name;
        IsDiverging = isDiverging;
        _table = table;
    }

    /// <summary>Gets the scale for amounts: pale straw (0) through green-blue to dark violet (1).</summary>
    public static ColourScale Sequential { get; } = new("sequential", false, BuildSequential());

    /// <summary>Gets the scale for amounts with dark for little and pale for much: the sequential scale turned round.</summary>
    public static ColourScale SequentialReversed { get; } = Sequential.Reversed();

    /// <summary>Gets the scale for differences: dark orange-brown (0), nearly white (0.5), dark blue (1).</summary>
    public static ColourScale Diverging { get; } = new("diverging", true, BuildDiverging());

    /// <summary>Gets the scale's name.</summary>
    public string Name { get; }

    /// <summary>Gets whether the middle is neutral and both ends are dark.</summary>
    public bool IsDiverging { get; }

    /// <summary>Returns the colour of a share.</summary>
    /// <param name="share">From 0 to 1; values beyond are drawn as the nearer end. NaN is refused.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="share"/> is NaN.</exception>
    public Colour At(double share)
    {
        if (double.IsNaN(share))
        {
            throw new ArgumentOutOfRangeException(nameof(share), "A share that is no number has no colour.");
        }

        return _table[(int)Math.Round(Math.Clamp(share, 0, 1) * (Steps - 1))];
    }

    /// <summary>Returns the same scale with its ends exchanged.</summary>
    public ColourScale Reversed()
    {
        var table = (Colour[])_table.Clone();
        Array.Reverse(table);
        return new(Name + ", reversed", IsDiverging, table);
    }

    private static Colour[] BuildSequential()
    {
        var table = new Colour[Steps];
        for (int i = 0; i < Steps; i++)
        {
            double t = i / (Steps - 1.0);
            double lightness = 0.955 - (0.705 * t);

            // Hue walks evenly from yellow over green and blue to violet; chroma swells in the middle, but never beyond what
            // a display can show: where it had to be cut, the eye would see an edge that is not in the values.
            double hue = 98 + (198 * t);
            double chroma = 0.055 + (0.045 * Math.Sin(Math.PI * t));
            table[i] = OkLab.FromPolar(lightness, chroma, hue).ToColour();
        }

        return table;
    }

    private static Colour[] BuildDiverging()
    {
        var table = new Colour[Steps];
        for (int i = 0; i < Steps; i++)
        {
            double t = (2.0 * i / (Steps - 1)) - 1;
            double strength = Math.Abs(t);
            double lightness = 0.97 - (0.60 * strength);
            double hue = t < 0 ? 58 - (14 * strength) : 245 + (20 * strength);
            double chroma = 0.13 * Math.Sin(0.5 * Math.PI * Math.Pow(strength, 0.8)) * (1 - (0.25 * strength));
            table[i] = OkLab.FromPolar(lightness, chroma, hue).ToColour();
        }

        return table;
    }
}
