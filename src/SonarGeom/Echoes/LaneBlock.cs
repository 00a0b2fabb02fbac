using System.Runtime.Intrinsics;
using SonarGeom.Air;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes;

/// <summary>Eight frequencies of one transducer in one air: wavenumbers, absorption, power weights, directivities.</summary>
internal sealed class LaneBlock
{
    internal const int Lanes = 8;

    internal LaneBlock(Transducer transducer, EchoMedium medium, ReadOnlySpan<double> frequenciesHertz, ReadOnlySpan<double> powerWeights, bool isLossless = false)
    {
        Span<double> k = stackalloc double[Lanes];
        Span<double> alpha = stackalloc double[Lanes];
        AirAbsorption.Fill(medium.Air, frequenciesHertz, alpha);
        for (int i = 0; i < Lanes; i++)
        {
            k[i] = 2 * Math.PI * frequenciesHertz[i] / medium.SoundSpeedMetresPerSecond;
            alpha[i] = isLossless ? 0 : alpha[i] / EchoMedium.DecibelsPerNeper;
        }

        Wavenumbers = Vector512.Create<double>(k);
        RootWavenumbers = Vector512.Sqrt(Wavenumbers);
        InverseWavenumbers = Vector512<double>.One / Wavenumbers;
        InverseRootWavenumbers = Vector512<double>.One / RootWavenumbers;
        AbsorptionNepersPerMetre = Vector512.Create<double>(alpha);
        PowerWeights = Vector512.Create<double>(powerWeights);
        LargestWavenumber = k[^1];
        SmallestWavenumber = k[0];
        Transmit = new DirectivityTable(transducer.Transmit, k);
        BeamSharpness = Sharpness(transducer, k[Lanes / 2]);
        Receive = ReferenceEquals(transducer.Transmit, transducer.Receive) ? Transmit : new DirectivityTable(transducer.Receive, k);
    }

    /// <summary>Wavenumbers, rising. [rad/m]</summary>
    internal Vector512<double> Wavenumbers { get; }

    internal Vector512<double> RootWavenumbers { get; }

    internal Vector512<double> InverseWavenumbers { get; }

    internal Vector512<double> InverseRootWavenumbers { get; }

    internal Vector512<double> AbsorptionNepersPerMetre { get; }

    /// <summary>Shares of the power, sum 1.</summary>
    internal Vector512<double> PowerWeights { get; }

    internal double LargestWavenumber { get; }

    internal double SmallestWavenumber { get; }

    /// <summary>S of the two-way beam written as exp(−S·θ²), the largest over its main lobe to −12 dB. [1/rad²]</summary>
    internal double BeamSharpness { get; }

    internal DirectivityTable Transmit { get; }

    internal DirectivityTable Receive { get; }

    private static double Sharpness(Transducer transducer, double wavenumber)
    {
        double largest = 0;
        for (int plane = 0; plane < 2; plane++)
        {
            for (int degrees = 2; degrees < 90; degrees += 2)
            {
                var angle = Angle.FromDegrees(degrees);
                double both = transducer.Transmit.AmplitudeAt(angle, wavenumber, plane == 1) * transducer.Receive.AmplitudeAt(angle, wavenumber, plane == 1);
                if (!(Math.Abs(both) > 0.25))
                {
                    break;
                }

                largest = Math.Max(largest, -Math.Log(Math.Abs(both)) / (angle.Radians * angle.Radians));
            }
        }

        return largest;
    }
}
