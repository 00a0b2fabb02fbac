using System.Collections.Immutable;

namespace SonarGeom.Coverage.Kernels;

/// <summary>
/// What the level of a sensor's echo from a point-like probe depends on besides where they are: beams, strength, air and
/// threshold. Immutable.
/// </summary>
/// <remarks>
/// Formula: <c>L = L₁ + 20·log₁₀(|D_t·D_r| / (r_t·r_r)) − α·(r_t + r_r)</c>, for a probe of the same target strength from every
/// side; no echo where the probe is behind either face. Spreading is that of a point in the far field of both transducers.
/// </remarks>
public sealed class FieldEcho
{
    /// <summary>Nepers of amplitude in a decibel.</summary>
    internal const double NepersPerDecibel = 0.11512925464970228;

    /// <summary>Makes an echo.</summary>
    /// <param name="transmit">Beam of the transmitter.</param>
    /// <param name="receive">Beam of the receiver.</param>
    /// <param name="levelAtOneMetreDecibels">Echo level on both axes at 1 m out and 1 m back without absorption: source level
    /// plus burst build-up plus target strength. [dB re 20 µPa]</param>
    /// <param name="absorptionDecibelsPerMetre">Absorption of the air, one way, at least 0. [dB/m]</param>
    /// <param name="threshold">The level that an echo must reach.</param>
    /// <exception cref="ArgumentOutOfRangeException">A number is outside its range.</exception>
    public FieldEcho(
        FieldBeam transmit, FieldBeam receive, double levelAtOneMetreDecibels, double absorptionDecibelsPerMetre, FieldThreshold threshold)
    {
        ArgumentNullException.ThrowIfNull(transmit);
        ArgumentNullException.ThrowIfNull(receive);
        ArgumentNullException.ThrowIfNull(threshold);
        Transmit = transmit;
        Receive = receive;
        LevelAtOneMetreDecibels = Quantities.Finite.Within(levelAtOneMetreDecibels, -200, 300, nameof(levelAtOneMetreDecibels), "dB");
        AbsorptionDecibelsPerMetre = Quantities.Finite.Within(absorptionDecibelsPerMetre, 0, 100, nameof(absorptionDecibelsPerMetre), "dB/m");
        Threshold = threshold;
    }

    /// <summary>Gets the beam of the transmitter.</summary>
    public FieldBeam Transmit { get; }

    /// <summary>Gets the beam of the receiver.</summary>
    public FieldBeam Receive { get; }

    /// <summary>Gets the echo level on both axes at 1 m out and 1 m back without absorption. [dB re 20 µPa]</summary>
    public double LevelAtOneMetreDecibels { get; }

    /// <summary>Gets the absorption of the air, one way. [dB/m]</summary>
    public double AbsorptionDecibelsPerMetre { get; }

    /// <summary>Gets the level that an echo must reach.</summary>
    public FieldThreshold Threshold { get; }
}
