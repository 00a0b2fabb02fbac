namespace SonarGeom.Rendering.Colours;

/// <summary>The kinds of colour vision that the figures are made for.</summary>
public enum ColourVisionKind
{
    /// <summary>All three cone types.</summary>
    Normal,

    /// <summary>No long-wavelength cones ("red-blind").</summary>
    Protanopia,

    /// <summary>No medium-wavelength cones ("green-blind").</summary>
    Deuteranopia,

    /// <summary>No short-wavelength cones ("blue-blind").</summary>
    Tritanopia,
}

/// <summary>Shows how a colour looks to a person with a colour-vision deficiency.</summary>
/// <remarks>
/// Source: G. M. Machado, M. M. Oliveira, L. A. F. Fernandes, "A physiologically-based model for simulation of color vision
/// deficiency", IEEE Transactions on Visualization and Computer Graphics 15 (2009) 1291, Table 1, severity 1.0. The
/// matrices act on linear components; the result is limited to what a display can show. For tritanopia the model is only
/// approximate, as its authors say.
/// </remarks>
public static class ColourVision
{
    private static readonly double[] Protanopia =
        [0.152286, 1.052583, -0.204868, 0.114503, 0.786281, 0.099216, -0.003882, -0.048116, 1.051998];

    private static readonly double[] Deuteranopia =
        [0.367322, 0.860646, -0.227968, 0.280085, 0.672501, 0.047413, -0.011820, 0.042940, 0.968881];

    private static readonly double[] Tritanopia =
        [1.255528, -0.076749, -0.178779, -0.078411, 0.930809, 0.147602, 0.004733, 0.691367, 0.303900];

    /// <summary>Returns the colour as seen.</summary>
    /// <param name="colour">The colour on the display.</param>
    /// <param name="kind">Whose vision.</param>
    public static Colour Simulate(Colour colour, ColourVisionKind kind)
    {
        double[]? m = kind switch
        {
            ColourVisionKind.Protanopia => Protanopia,
            ColourVisionKind.Deuteranopia => Deuteranopia,
            ColourVisionKind.Tritanopia => Tritanopia,
            _ => null,
        };
        if (m is null)
        {
            return colour;
        }

        double r = SrgbTransfer.ToLinear(colour.Red);
        double g = SrgbTransfer.ToLinear(colour.Green);
        double b = SrgbTransfer.ToLinear(colour.Blue);
        return new(
            SrgbTransfer.FromLinear((m[0] * r) + (m[1] * g) + (m[2] * b)),
            SrgbTransfer.FromLinear((m[3] * r) + (m[4] * g) + (m[5] * b)),
            SrgbTransfer.FromLinear((m[6] * r) + (m[7] * g) + (m[8] * b)),
            colour.Alpha);
    }
}
