using System.Collections.Concurrent;
using System.Runtime.Intrinsics;
using SonarGeom.Air;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes;

/// <summary>Eight frequencies of one transducer in one air: wavenumbers, absorption, power weights, directivities.</summary>
internal sealed class LaneBlock
{
    internal const int Lanes = 8;

    private const int Slots = 32;

    // Written by any thread, each entry whole and never changed: whoever comes first, the values are the same.
    private readonly Ratio?[] _cylinders = new Ratio?[Slots];
    private readonly Ratio?[] _spheres = new Ratio?[Slots];
    private readonly ConcurrentDictionary<double, LeafScatter> _leaves = [];
    private readonly Lazy<double> _reach;
    private readonly Lazy<BeamBends> _transmitBends;
    private readonly Lazy<BeamBends> _receiveBends;

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
        LargestAbsorption = Math.Max(alpha[0], alpha[^1]);
        SmallestWavenumber = k[0];
        Transmit = new DirectivityTable(transducer.Transmit, k);
        BeamSharpness = Sharpness(transducer, k[Lanes / 2]);
        Receive = ReferenceEquals(transducer.Transmit, transducer.Receive) ? Transmit : new DirectivityTable(transducer.Receive, k);
        double middle = k[Lanes / 2];
        _reach = new(() => ReachOf(transducer, middle));
        _transmitBends = new(() => new BeamBends(Transmit));
        _receiveBends = ReferenceEquals(Transmit, Receive) ? _transmitBends : new(() => new BeamBends(Receive));
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

    /// <summary>Absorption rises with frequency. [Np/m]</summary>
    internal double LargestAbsorption { get; }

    /// <summary>S of the two-way beam written as exp(−S·θ²), the largest over its main lobe to −12 dB. [1/rad²]</summary>
    internal double BeamSharpness { get; }

    /// <summary>
    /// S/kR: how fast the beams turn against the size of a Fresnel zone at a range. The uniform expansion of line integrals leaves
    /// out about (3/8)(S/kR)².
    /// </summary>
    internal double BeamTurnAt(double range) => BeamSharpness / (SmallestWavenumber * range);

    /// <summary>The exact ratio of a rod's backscatter to geometrical acoustics at every frequency, remembered by radius.</summary>
    internal Vector512<double> CylinderRatio(double radius) => Remembered(_cylinders, radius, ResonanceTable.Cylinder);

    /// <summary>The same for a sphere.</summary>
    internal Vector512<double> SphereRatio(double radius) => Remembered(_spheres, radius, ResonanceTable.Sphere);

    internal DirectivityTable Transmit { get; }

    internal DirectivityTable Receive { get; }

    /// <summary>Whether both beams are the same all round.</summary>
    internal bool IsAxial => Transmit.IsAxial && Receive.IsAxial;

    /// <summary>Whether both beams are the same in all directions.</summary>
    internal bool IsEven => Transmit.IsEven && Receive.IsEven;

    /// <summary>The angle off the boresight beyond which both beams together stay 40 dB down, measured when first asked for. [rad]</summary>
    internal double Reach => _reach.Value;

    /// <summary>What a leaf of a radius returns at every frequency, remembered.</summary>
    internal LeafScatter LeafOf(double radiusMetres) => _leaves.GetOrAdd(radiusMetres, static (radius, block) => new LeafScatter(block, radius), this);

    /// <summary>Size and bends of the transmitter's beam, measured when first asked for.</summary>
    internal BeamBends TransmitBends => _transmitBends.Value;

    /// <summary>The same of the receiver's.</summary>
    internal BeamBends ReceiveBends => _receiveBends.Value;

    private Vector512<double> Remembered(Ratio?[] slots, double radius, ResonanceTable table)
    {
        // The top bits of a product spread neighbouring radii over the slots.
        uint slot = (uint)((BitConverter.DoubleToUInt64Bits(radius) * 0x9E3779B97F4A7C15UL) >> 59);
        Ratio? known = Volatile.Read(ref slots[slot]);
        if (known is null || known.Radius != radius)
        {
            known = new Ratio(radius, table.At(Wavenumbers, radius));
            Volatile.Write(ref slots[slot], known);
        }

        return known.Values;
    }

    private static double ReachOf(Transducer transducer, double wavenumber)
    {
        const double Faintest = 0.01;
        int reach = 5;
        for (int plane = 0; plane < 2; plane++)
        {
            for (int degrees = 5; degrees < 90; degrees++)
            {
                var angle = Angle.FromDegrees(degrees);
                double both = transducer.Transmit.AmplitudeAt(angle, wavenumber, plane == 1) * transducer.Receive.AmplitudeAt(angle, wavenumber, plane == 1);
                reach = Math.Abs(both) > Faintest ? Math.Max(reach, degrees + 1) : reach;
            }
        }

        return Angle.FromDegrees(reach).Radians;
    }

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

    private sealed class Ratio(double radius, Vector512<double> values)
    {
        internal readonly double Radius = radius;
        internal readonly Vector512<double> Values = values;
    }
}
