using System.Numerics;
using MathNet.Numerics;

namespace SonarGeom.Echoes;

/// <summary>Exact backscatter of rigid round bodies as series of modes, by recurrence.</summary>
public static class RigidSeries
{
    private const double SmallestKa = 1e-6;
    private const double LargestKa = 2000;

    /// <summary>
    /// Returns the magnitude of the far-field backscatter amplitude of a rigid sphere over half its radius: 1 for a large one.
    /// [unitless]
    /// </summary>
    /// <param name="ka">Wavenumber times radius, from 1e-6 to 2000. [unitless]</param>
    /// <remarks>
    /// <c>f = (i/k) Σ (2n+1)(−1)ⁿ jₙ′(ka)/hₙ′(ka)</c>; Morse and Ingard, Theoretical Acoustics, §8.2; Bowman, Senior and Uslenghi
    /// 1969, ch. 10 (both from memory).
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="ka"/> is out of range.</exception>
    public static double SphereBackscatterRatio(double ka)
    {
        Check(ka);
        int count = (int)(ka + (4.05 * Math.Cbrt(ka)) + 12);
        double[] j = Downward(ka, count + 1, isSpherical: true);
        double yBefore = -Math.Cos(ka) / ka;
        double y = (-Math.Cos(ka) / (ka * ka)) - (Math.Sin(ka) / ka);

        // n = 0: j₀′ = −j₁, y₀′ = −y₁.
        Complex sum = -j[1] / new Complex(-j[1], -y);
        for (int n = 1; n <= count; n++)
        {
            double dj = j[n - 1] - ((n + 1) / ka * j[n]);
            double dy = yBefore - ((n + 1) / ka * y);
            Complex term = ((2 * n) + 1) * dj / new Complex(dj, dy);
            sum += (n % 2 == 0) ? term : -term;
            (yBefore, y) = (y, (((2 * n) + 1) / ka * y) - yBefore);
            if (!double.IsFinite(y))
            {
                break;
            }
        }

        return 2 * sum.Magnitude / ka;
    }

    /// <summary>
    /// Returns the magnitude of the two-dimensional backscatter amplitude of a rigid cylinder over √(a/2): 1 for a thick one.
    /// [unitless]
    /// </summary>
    /// <param name="ka">Wavenumber times radius, from 1e-6 to 2000. [unitless]</param>
    /// <remarks>
    /// <c>f₂ = −√(2/πk) e^(−iπ/4) Σ εₙ (−1)ⁿ Jₙ′(ka)/Hₙ′(ka)</c>; Bowman, Senior and Uslenghi 1969, ch. 2 (from memory).
    /// </remarks>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="ka"/> is out of range.</exception>
    public static double CylinderBackscatterRatio(double ka)
    {
        Check(ka);
        int count = (int)(ka + (4.05 * Math.Cbrt(ka)) + 12);
        double[] j = Downward(ka, count + 1, isSpherical: false);
        double yBefore = SpecialFunctions.BesselY(0, ka);
        double y = SpecialFunctions.BesselY(1, ka);
        Complex sum = -j[1] / new Complex(-j[1], -y);
        for (int n = 1; n <= count; n++)
        {
            double dj = j[n - 1] - (n / ka * j[n]);
            double dy = yBefore - (n / ka * y);
            Complex term = 2 * dj / new Complex(dj, dy);
            sum += (n % 2 == 0) ? term : -term;
            (yBefore, y) = (y, (2 * n / ka * y) - yBefore);
            if (!double.IsFinite(y))
            {
                break;
            }
        }

        return 2 * sum.Magnitude / Math.Sqrt(Math.PI * ka);
    }

    /// <summary>Bessel functions of the first kind, orders 0 to <paramref name="count"/>, by Miller's downward recurrence.</summary>
    private static double[] Downward(double x, int count, bool isSpherical)
    {
        double[] j = new double[count + 1];
        int start = count + 20 + (int)(0.5 * x);
        double above = 0;
        double here = 1e-140;
        double sumOfSquares = 0;
        double alternating = 0;
        for (int n = start; n >= 0; n--)
        {
            if (n <= count)
            {
                j[n] = here;
            }

            // Normalisation: Σ (2n+1) jₙ² = 1 for the spherical ones, J₀ + 2 Σ J₂ₘ = 1 for the others.
            sumOfSquares += ((2 * n) + 1) * here * here;
            if (n % 2 == 0)
            {
                alternating += n == 0 ? here : 2 * here;
            }

            double below = ((isSpherical ? (2 * n) + 1 : 2 * n) / x * here) - above;
            (above, here) = (here, below);
            if (Math.Abs(here) > 1e100)
            {
                here *= 1e-200;
                above *= 1e-200;
                alternating *= 1e-200;
                sumOfSquares *= 1e-200;
                sumOfSquares *= 1e-200;
                for (int m = n; m <= count; m++)
                {
                    j[m] *= 1e-200;
                }
            }
        }

        double scale = isSpherical ? Math.CopySign(1 / Math.Sqrt(sumOfSquares), 1) : 1 / alternating;
        if (isSpherical && Math.Sign(j[0] * scale) != Math.Sign(Math.Sin(x)) && Math.Abs(Math.Sin(x)) > 1e-3)
        {
            scale = -scale;
        }
        else if (isSpherical && Math.Abs(Math.Sin(x)) <= 1e-3)
        {
            // j₁ = sin x / x² − cos x / x fixes the sign where j₀ is near a zero.
            double j1 = (Math.Sin(x) / (x * x)) - (Math.Cos(x) / x);
            scale = Math.CopySign(scale, j1 * j[1]);
        }

        for (int n = 0; n <= count; n++)
        {
            j[n] *= scale;
        }

        return j;
    }

    private static void Check(double ka)
    {
        if (!(ka >= SmallestKa && ka <= LargestKa))
        {
            throw new ArgumentOutOfRangeException(nameof(ka), $"ka is {ka}; it must be from {SmallestKa} to {LargestKa}.");
        }
    }
}
