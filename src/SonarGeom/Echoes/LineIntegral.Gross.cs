using System.Runtime.CompilerServices;
using System.Runtime.Intrinsics;
using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <content>What the integral could come to at most, whatever the beams.</content>
internal readonly partial struct LineIntegral
{
    // The same branches as the integral itself, every term with its absolute value; absorption, which is at most 1, left out; 1/k at the
    // lowest frequency of the burst. Tests hold them against what turns of real beams do.

    /// <summary>The slopes of G at one of eight points when the boresight moves along the sensor's Y and Z axes.</summary>
    private void SlopesOf(LaneBlock block, in Points points, int i, double scale, out Vector512<double> y, out Vector512<double> z)
    {
        (double at, double rT, double rR, double cosineT, double cosineR) = (points.Z[i], points.RT[i], points.RR[i], points.CosineT[i], points.CosineR[i]);
        Vector512<double> decay = LaneMath.SmallDecay(block.AbsorptionNepersPerMetre * Math.Max(0, rT + rR - NearestPath)) * scale;
        Vector512<double> t = block.Transmit.SlopeAtCosine(cosineT) * block.Receive.AtCosine(cosineR) * decay * (1 / rT);
        Vector512<double> r = block.Transmit.AtCosine(cosineT) * block.Receive.SlopeAtCosine(cosineR) * decay * (1 / rR);
        y = (t * (_fromTransmitter.Y + (at * _along.Y))) + (r * (_fromReceiver.Y + (at * _along.Y)));
        z = (t * (_fromTransmitter.Z + (at * _along.Z))) + (r * (_fromReceiver.Z + (at * _along.Z)));
    }

    private void AddUniform(GrossSum sum, LaneBlock block, in Points points, bool withSecondTerms)
    {
        double inverseTwoK = 0.5 / block.SmallestWavenumber;
        double tPlus = points.T[1], tMinus = points.T[2];

        // h′(0) = Σ dᵢGᵢ and A = G₀ + i·h′(0)/2k.
        double d1 = 1 / (tPlus * (tPlus - tMinus)), d2 = -1 / (tMinus * (tPlus - tMinus)), d0 = -(d1 + d2);
        double a0 = Math.Sqrt(1 + (d0 * d0 * inverseTwoK * inverseTwoK));
        double a1 = Math.Abs(d1) * inverseTwoK, a2 = Math.Abs(d2) * inverseTwoK;
        double ofA = points.T[3] < 0 && points.T[4] >= 0 ? 2 * LineIntegralBounds.LargestTail / Math.Sqrt(block.SmallestWavenumber) : 0;
        double of0 = 0, of1 = 0, of2 = 0;
        Span<double> of = stackalloc double[8];
        End(points, 4, 6, of);
        End(points, 3, 5, of);
        of[0] += (ofA * a0) + of0;
        of[1] += (ofA * a1) + of1;
        of[2] += (ofA * a2) + of2;
        sum.Add(Vector512.Create<double>(of) * Vector512.Abs(points.Scale), points.CosineT, points.CosineR);

        void End(in Points points, int at, int inner, Span<double> of)
        {
            double t = Math.Abs(points.T[at]);
            double phase = t * t * block.SmallestWavenumber;
            if (phase > FarEndPhase)
            {
                of[at] += inverseTwoK / t;
                return;
            }

            ofA += LineIntegralBounds.Tail(Math.Sqrt(phase)) / Math.Sqrt(block.SmallestWavenumber);

            // h = (G − G₀)/t, near the stationary point h₀ + h₀′t with h₀ = h₊ − h₀′t₊.
            double h = inverseTwoK, dh = 0;
            if (withSecondTerms && phase > 2)
            {
                double apart = Math.Abs(points.T[at] - points.T[inner]);
                double scale = inverseTwoK * inverseTwoK / t;
                dh = scale;
                h += scale / apart;
                double innerShare = scale / (apart * Math.Abs(points.T[inner]));
                of[inner] += innerShare;
                of0 += innerShare;
            }

            if (phase > 0.05)
            {
                of[at] += h / t;
                of0 += h / t;
            }
            else
            {
                of1 += h / Math.Abs(tPlus);
                of0 += h / Math.Abs(tPlus);
                dh += h * (Math.Abs(tPlus) + t);
            }

            of0 += dh * Math.Abs(d0);
            of1 += dh * Math.Abs(d1);
            of2 += dh * Math.Abs(d2);
        }
    }

    private void AddEnds(GrossSum sum, LaneBlock block, in Points points)
    {
        Span<double> of = stackalloc double[8];
        double inverseTwoK = 0.5 / block.SmallestWavenumber;
        for (int at = 0; at < 2; at++)
        {
            double t = Math.Abs(points.T[at]), tInner = Math.Abs(points.T[at + 2]);
            double second = t * t * block.SmallestWavenumber < FarEndPhase ? inverseTwoK * inverseTwoK / (Math.Abs(t - tInner) * t) : 0;
            of[at] += (inverseTwoK + second) / t;
            of[at + 2] += second / tInner;
        }

        sum.Add(Vector512.Create<double>(of) * Vector512.Abs(points.Scale), points.CosineT, points.CosineR);
    }
}

/// <summary>Bounds on the functions of line integrals.</summary>
internal static class LineIntegralBounds
{
    /// <summary>|W(0)| = √π/2, its largest value.</summary>
    internal const double LargestTail = 0.88623;

    /// <summary>Bound on |W(x)|, x ≥ 0: |W| = √(f² + g²)·√(π/2) with f below 1/(πz) and g below 1/(π²z³), z = x√(2/π) (Abramowitz and Stegun
    /// 7.3.9 to 7.3.28: the auxiliary functions lie below the first terms of their asymptotic series).</summary>
    internal static double Tail(double x)
    {
        double first = 0.5 / x;
        double second = 0.25 / (x * x * x);
        return Math.Min(LargestTail, Math.Sqrt((first * first) + (second * second)));
    }
}
