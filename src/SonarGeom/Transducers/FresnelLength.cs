namespace SonarGeom.Transducers;

/// <summary>The part of a straight strip that answers a point source: |∫ exp(i·k·z²/R) dz| over the strip.</summary>
internal static class FresnelLength
{
    private const double SeriesLimit = 2.2;

    /// <summary>Returns the effective length of a strip centred on the foot of the perpendicular. [m]</summary>
    /// <param name="lengthMetres">The full length, above 0. [m]</param>
    /// <param name="rangeMetres">The range, above 0. [m]</param>
    /// <param name="wavenumberRadiansPerMetre">The wavenumber, above 0. [rad/m]</param>
    /// <remarks>Formula: <c>2·|C(s·L/2) + i·S(s·L/2)|/s</c> with <c>s = √(2k/(π·R))</c>; a short strip gives its length, a long
    /// one the first-Fresnel length <c>√(λR/2)</c>. Fresnel integrals: Abramowitz and Stegun, §7.3 (from memory).</remarks>
    internal static double Centred(double lengthMetres, double rangeMetres, double wavenumberRadiansPerMetre)
    {
        double scale = Math.Sqrt(2 * wavenumberRadiansPerMetre / (Math.PI * rangeMetres));
        (double c, double s) = Integrals(0.5 * scale * lengthMetres);
        return 2 * Math.Sqrt((c * c) + (s * s)) / scale;
    }

    /// <summary>Returns the Fresnel integrals C(x) and S(x), ∫₀ˣ cos and sin of π·t²/2, for x ≥ 0; absolute error below 1e-12.</summary>
    internal static (double C, double S) Integrals(double x) => x < SeriesLimit ? Series(x) : ContinuedFraction(x);

    private static (double C, double S) Series(double x)
    {
        // Σ (iπx²/2)ⁿ·x / (n!·(2n+1)), real and imaginary parts in turn.
        double u = 0.5 * Math.PI * x * x;
        double term = x;
        double c = 0;
        double s = 0;
        for (int n = 0; n < 60 && (n < 4 || Math.Abs(term) > 1e-18); n++)
        {
            double part = term / ((2 * n) + 1);
            switch (n & 3)
            {
                case 0: c += part; break;
                case 1: s += part; break;
                case 2: c -= part; break;
                default: s -= part; break;
            }

            term *= u / (n + 1);
        }

        return (c, s);
    }

    private static (double C, double S) ContinuedFraction(double x)
    {
        // C + iS = (1+i)/2·erf(z), z = √π/2·(1−i)·x; erfc(z) = 2z·e^(−z²)/√π · 1/(2z²+1 − 1·2/(2z²+5 − 3·4/(2z²+9 − …))),
        // evaluated from the tail;
        // the terms that are needed fall with z². 2z² = −iπx² and e^(−z²) = e^(iπx²/2).
        var twoZSquared = new System.Numerics.Complex(0, -Math.PI * x * x);
        int terms = 8 + (int)(300 / (x * x));
        System.Numerics.Complex tail = twoZSquared + (4.0 * terms) + 1;
        for (int n = terms - 1; n >= 0; n--)
        {
            double numerator = ((2.0 * n) + 1) * ((2.0 * n) + 2);
            tail = twoZSquared + (4.0 * n) + 1 - (numerator / tail);
        }

        System.Numerics.Complex z = 0.5 * Math.Sqrt(Math.PI) * x * new System.Numerics.Complex(1, -1);
        (double sine, double cosine) = Math.SinCos(0.5 * Math.PI * x * x);
        System.Numerics.Complex erfc = 2 * z * new System.Numerics.Complex(cosine, sine) / (Math.Sqrt(Math.PI) * tail);
        System.Numerics.Complex result = new System.Numerics.Complex(0.5, 0.5) * (1 - erfc);
        return (result.Real, result.Imaginary);
    }
}
