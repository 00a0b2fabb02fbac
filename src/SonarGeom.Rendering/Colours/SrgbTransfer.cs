namespace SonarGeom.Rendering.Colours;

/// <summary>The sRGB transfer function and its inverse. Source: IEC 61966-2-1.</summary>
internal static class SrgbTransfer
{
    /// <summary>Returns the linear component of a gamma-encoded byte. [0 to 1]</summary>
    public static double ToLinear(byte encoded)
    {
        double c = encoded / 255.0;
        return c <= 0.04045 ? c / 12.92 : Math.Pow((c + 0.055) / 1.055, 2.4);
    }

    /// <summary>Returns the gamma-encoded byte of a linear component, which is limited to 0 to 1 first.</summary>
    public static byte FromLinear(double linear)
    {
        double l = Math.Clamp(linear, 0, 1);
        double c = l <= 0.0031308 ? 12.92 * l : (1.055 * Math.Pow(l, 1 / 2.4)) - 0.055;
        return (byte)Math.Round(c * 255);
    }
}
