namespace SonarGeom.Rendering.Colours;

/// <summary>A colour in the OKLab space, in which equal distances look about equally different.</summary>
/// <param name="Lightness">Perceived lightness, 0 for black and 1 for white. [unitless]</param>
/// <param name="A">From green (negative) to red (positive). [unitless]</param>
/// <param name="B">From blue (negative) to yellow (positive). [unitless]</param>
/// <remarks>Source: B. Ottosson, "A perceptual color space for image processing", 2020, the two matrices for linear sRGB.</remarks>
public readonly record struct OkLab(double Lightness, double A, double B)
{
    /// <summary>Returns the OKLab coordinates of an opaque display colour.</summary>
    /// <param name="colour">The colour; its opacity is not used.</param>
    public static OkLab From(Colour colour)
    {
        double r = SrgbTransfer.ToLinear(colour.Red);
        double g = SrgbTransfer.ToLinear(colour.Green);
        double b = SrgbTransfer.ToLinear(colour.Blue);
        double l = Math.Cbrt((0.4122214708 * r) + (0.5363325363 * g) + (0.0514459929 * b));
        double m = Math.Cbrt((0.2119034982 * r) + (0.6806995451 * g) + (0.1073969566 * b));
        double s = Math.Cbrt((0.0883024619 * r) + (0.2817188376 * g) + (0.6299787005 * b));
        return new(
            (0.2104542553 * l) + (0.7936177850 * m) - (0.0040720468 * s),
            (1.9779984951 * l) - (2.4285922050 * m) + (0.4505937099 * s),
            (0.0259040371 * l) + (0.7827717662 * m) - (0.8086757660 * s));
    }

    /// <summary>Returns OKLab coordinates from lightness, chroma and hue.</summary>
    /// <param name="lightness">Perceived lightness. [0 to 1]</param>
    /// <param name="chroma">Distance from grey. [unitless]</param>
    /// <param name="hueDegrees">Hue angle: about 30 red, 60 orange, 110 yellow, 145 green, 260 blue. [°]</param>
    public static OkLab FromPolar(double lightness, double chroma, double hueDegrees)
    {
        (double sin, double cos) = Math.SinCos(hueDegrees * (Math.PI / 180));
        return new(lightness, chroma * cos, chroma * sin);
    }

    /// <summary>Returns the distance to another colour; about 0.02 is just noticeable side by side. [unitless]</summary>
    /// <param name="other">The other colour.</param>
    public double DistanceTo(OkLab other)
    {
        double l = Lightness - other.Lightness;
        double a = A - other.A;
        double b = B - other.B;
        return Math.Sqrt((l * l) + (a * a) + (b * b));
    }

    /// <summary>Returns the nearest display colour of the same lightness and hue: chroma is reduced until it can be shown.</summary>
    public Colour ToColour()
    {
        double keep = 1;
        if (!IsShown(this))
        {
            // Bisect on the share of chroma kept; grey (share 0) can always be shown.
            double low = 0;
            double high = 1;
            for (int i = 0; i < 20; i++)
            {
                double middle = 0.5 * (low + high);
                if (IsShown(new(Lightness, middle * A, middle * B)))
                {
                    low = middle;
                }
                else
                {
                    high = middle;
                }
            }

            keep = low;
        }

        (double red, double green, double blue) = new OkLab(Lightness, keep * A, keep * B).ToLinear();
        return new(SrgbTransfer.FromLinear(red), SrgbTransfer.FromLinear(green), SrgbTransfer.FromLinear(blue));
    }

    private static bool IsShown(OkLab lab)
    {
        const double slack = 1e-4;
        (double red, double green, double blue) = lab.ToLinear();
        return Math.Min(red, Math.Min(green, blue)) >= -slack && Math.Max(red, Math.Max(green, blue)) <= 1 + slack;
    }

    private (double Red, double Green, double Blue) ToLinear()
    {
        double l = Lightness + (0.3963377774 * A) + (0.2158037573 * B);
        double m = Lightness - (0.1055613458 * A) - (0.0638541728 * B);
        double s = Lightness - (0.0894841775 * A) - (1.2914855480 * B);
        l *= l * l;
        m *= m * m;
        s *= s * s;
        return (
            (4.0767416621 * l) - (3.3077115913 * m) + (0.2309699292 * s),
            (-1.2684380046 * l) + (2.6097574011 * m) - (0.3413193965 * s),
            (-0.0041960863 * l) - (0.7034186147 * m) + (1.7076147010 * s));
    }
}
