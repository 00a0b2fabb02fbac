using System.Collections.Immutable;
using SonarGeom.Quantities;

namespace SonarGeom.Air;

/// <summary>What the air does to a tone: the numbers that a level budget and a firmware need, with what limits their trust.</summary>
public sealed record AirProperties
{
    private AirProperties(AirState state, Frequency frequency, SoundSpeedModel model)
    {
        State = state;
        Frequency = frequency;
        Model = model;
        SoundSpeedMetresPerSecond = SoundSpeed.InMetresPerSecond(state, model);
        DensityKilogramsPerCubicMetre = AirDensity.KilogramsPerCubicMetre(state);
        AbsorptionDecibelsPerMetre = AirAbsorption.DecibelsPerMetre(state, frequency);
        AbsorptionAccuracy = AirAbsorption.AccuracyOf(state, frequency);
        Flags = FlagsOf(state, frequency, model, AbsorptionAccuracy);
    }

    /// <summary>Gets the state of the air.</summary>
    public AirState State { get; }

    /// <summary>Gets the frequency of the tone.</summary>
    public Frequency Frequency { get; }

    /// <summary>Gets the formula used for the speed of sound.</summary>
    public SoundSpeedModel Model { get; }

    /// <summary>Gets the speed of sound. [m/s]</summary>
    public double SoundSpeedMetresPerSecond { get; }

    /// <summary>Gets the density. [kg/m³]</summary>
    public double DensityKilogramsPerCubicMetre { get; }

    /// <summary>Gets the specific acoustic impedance of a plane wave, ρ·c. [Pa·s/m]</summary>
    public double ImpedancePascalSecondsPerMetre => DensityKilogramsPerCubicMetre * SoundSpeedMetresPerSecond;

    /// <summary>Gets the absorption coefficient, one way. [dB/m]</summary>
    public double AbsorptionDecibelsPerMetre { get; }

    /// <summary>Gets the working uncertainty of the absorption coefficient, ± this much. [dB/m]</summary>
    public double AbsorptionUncertaintyDecibelsPerMetre =>
        AirAbsorption.WorkingUncertaintyFraction * AbsorptionDecibelsPerMetre;

    /// <summary>Gets the accuracy class that ISO 9613-1 states for the absorption.</summary>
    public AbsorptionAccuracy AbsorptionAccuracy { get; }

    /// <summary>Gets the wavelength. [m]</summary>
    public double WavelengthMetres => SoundSpeedMetresPerSecond / Frequency.Hertz;

    /// <summary>Gets the wavenumber. [rad/m]</summary>
    public double WavenumberRadiansPerMetre => 2 * Math.PI * Frequency.Hertz / SoundSpeedMetresPerSecond;

    /// <summary>Gets the round-trip echo time for each centimetre of range. [µs/cm]</summary>
    public double RoundTripMicrosecondsPerCentimetre => RoundTrip.MicrosecondsPerCentimetre(SoundSpeedMetresPerSecond);

    /// <summary>Gets one sentence for every formula used outside its stated range or below its best accuracy class; empty when there is none.</summary>
    public ImmutableArray<string> Flags { get; }

    /// <summary>Returns the properties of an air for a tone.</summary>
    /// <param name="state">The state of the air.</param>
    /// <param name="frequency">The frequency of the tone.</param>
    /// <param name="model">The formula for the speed of sound.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="model"/> is not a named model.</exception>
    public static AirProperties Of(AirState state, Frequency frequency, SoundSpeedModel model = SoundSpeedModel.Humid)
    {
        ArgumentNullException.ThrowIfNull(state);
        return new AirProperties(state, frequency, model);
    }

    private static ImmutableArray<string> FlagsOf(
        AirState state, Frequency frequency, SoundSpeedModel model, AbsorptionAccuracy accuracy)
    {
        ImmutableArray<string>.Builder flags = ImmutableArray.CreateBuilder<string>();
        if (model == SoundSpeedModel.Humid && !SoundSpeed.IsWithinCramerRange(state))
        {
            flags.Add($"Speed of sound: {state} is outside the range of Cramer 1993 (0 to 30 °C, 75 to 102 kPa, water vapour "
                + "up to 6 % and carbon dioxide up to 1 % by moles); the humid ideal gas is used, good to about 0.1 %.");
        }
        else if (model != SoundSpeedModel.Humid && state.RelativeHumidityPercent > 0)
        {
            flags.Add("Speed of sound: the chosen formula leaves out humidity, which raises the speed by up to 0.4 % at "
                + "20 °C and 0.9 % at 35 °C.");
        }

        if (!AirDensity.IsWithinStatedRange(state))
        {
            flags.Add($"Density: {state} is outside the stated range of the moist-air equation (15 to 27 °C, 60 to 110 kPa, "
                + "from memory); it stays within 0.1 % of the ideal mixture.");
        }

        double hertzPerPascal = frequency.Hertz / state.PressurePascals;
        double vapour = AirAbsorption.MolarWaterVapourPercent(state);
        if (accuracy == AbsorptionAccuracy.TwentyPercent)
        {
            flags.Add($"Absorption: water vapour is {vapour:0.####} % by moles, where ISO 9613-1 states ±20 % instead of ±10 %.");
        }
        else if (accuracy == AbsorptionAccuracy.Outside)
        {
            flags.Add($"Absorption: frequency over pressure is {hertzPerPascal:0.#####} Hz/Pa (stated 0.0004 to 10), pressure "
                + $"{state.PressurePascals / 1000:0.###} kPa (stated below 200), water vapour {vapour:0.####} % by moles "
                + "(stated from 0.005): outside the accuracy classes of ISO 9613-1 used here.");
        }

        return flags.ToImmutable();
    }
}
