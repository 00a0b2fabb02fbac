using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Layouts;
using SonarGeom.Quantities;

namespace SonarGeom.Studies.Firmware;

/// <summary>What is asked of a firmware pack.</summary>
/// <param name="Climate">The weather in which the device must work.</param>
/// <param name="ThresholdMarginDecibels">How far the threshold lies above the floor and the wearer, 0 to 30. [dB]</param>
/// <param name="FiringMarginDecibels">How far ghosts and crosstalk stay below the threshold, 0 to 30. [dB]</param>
/// <param name="StepCelsius">The step of the round-trip table. [°C]</param>
public sealed record FirmwareDemand(
    ClimateRange Climate, double ThresholdMarginDecibels = 6, double FiringMarginDecibels = 6, double StepCelsius = 5)
{
    /// <summary>Gets how far the threshold lies above the floor and the wearer. [dB]</summary>
    public double ThresholdMarginDecibels { get; init => field = Finite.Within(value, 0, 30, "The margin of the threshold", "dB"); } =
        Finite.Within(ThresholdMarginDecibels, 0, 30, "The margin of the threshold", "dB");

    /// <summary>Gets how far ghosts and crosstalk stay below the threshold. [dB]</summary>
    public double FiringMarginDecibels { get; init => field = Finite.Within(value, 0, 30, "The margin of the firing", "dB"); } =
        Finite.Within(FiringMarginDecibels, 0, 30, "The margin of the firing", "dB");
}

/// <summary>The round trip at one temperature, over the humidity of the climate.</summary>
/// <param name="Temperature">The temperature.</param>
/// <param name="MicrosecondsPerCentimetre">At the middle of the humidity. [µs/cm]</param>
/// <param name="DriestMicrosecondsPerCentimetre">In the driest air. [µs/cm]</param>
/// <param name="DampestMicrosecondsPerCentimetre">In the dampest air. [µs/cm]</param>
/// <param name="FixedErrorFraction">Relative range error of the device's fixed constant; above 0 it reports too far. [unitless]</param>
/// <param name="FormulaErrorFraction">The same of the compensation formula. [unitless]</param>
public readonly record struct RoundTripRow(
    Temperature Temperature, double MicrosecondsPerCentimetre, double DriestMicrosecondsPerCentimetre, double DampestMicrosecondsPerCentimetre,
    double FixedErrorFraction, double FormulaErrorFraction);

/// <summary>An echo time and what must come out of it, to check an implementation by.</summary>
/// <param name="EchoMicroseconds">The echo time. [µs]</param>
/// <param name="TemperatureTenthsCelsius">The air temperature. [0.1 °C]</param>
/// <param name="RangeMillimetres">The range. [mm]</param>
public readonly record struct WorkedCheck(int EchoMicroseconds, int TemperatureTenthsCelsius, int RangeMillimetres);

/// <summary>What the firmware needs of one sensor.</summary>
/// <param name="Placement">The sensor.</param>
/// <param name="Group">Its place in the firing order, from 0.</param>
/// <param name="OffsetSeconds">When it fires in the cycle. [s]</param>
/// <param name="BlankingSeconds">From the start of the burst, during which the receiver is not looked at. [s]</param>
/// <param name="BlankingReason">Why.</param>
/// <param name="DeadZoneMetres">The range below which nothing is heard, in the warmest air, where it is longest. [m]</param>
/// <param name="BehindForemostMetres">How far the sensor is behind the foremost point of the wearer, at the most: to be taken off the range. [m]</param>
/// <param name="Threshold">The threshold against time.</param>
/// <param name="PoleRangeBeforeMetres">How far a 75 mm pole on the boresight is heard with the part's own threshold; null when nowhere. [m]</param>
/// <param name="PoleRangeAfterMetres">How far with the threshold designed here; null when nowhere. [m]</param>
public sealed record SensorFirmware(
    SensorPlacement Placement, int Group, double OffsetSeconds, double BlankingSeconds, string BlankingReason, double DeadZoneMetres,
    double BehindForemostMetres, ThresholdDesign Threshold, double? PoleRangeBeforeMetres, double? PoleRangeAfterMetres);

/// <summary>How far off an alert must come at one walking speed.</summary>
/// <param name="SpeedMetresPerSecond">The walking speed. [m/s]</param>
/// <param name="TimeNeededSeconds">From the first report to contact: filter, latency, reaction, braking. [s]</param>
/// <param name="FirstReportMetres">Distance from the foremost point of the body at the first report. [m]</param>
/// <param name="AlertMetres">Distance at the alert itself, after filter and latency. [m]</param>
/// <param name="StoppingMetres">The part of it in which the wearer brakes. [m]</param>
public readonly record struct AlertDistance(
    double SpeedMetresPerSecond, double TimeNeededSeconds, double FirstReportMetres, double AlertMetres, double StoppingMetres);

/// <summary>All numbers that the firmware of one layout needs, for a range of weather.</summary>
public sealed record FirmwarePack
{
    /// <summary>Gets the layout.</summary>
    public required SensorLayout Layout { get; init; }

    /// <summary>Gets what was asked.</summary>
    public required FirmwareDemand Demand { get; init; }

    /// <summary>Gets the formula of the speed of sound that was used.</summary>
    public required SoundSpeedModel SpeedModel { get; init; }

    /// <summary>Gets the fixed constant with which the formula is compared. [µs/cm]</summary>
    public required double FixedMicrosecondsPerCentimetre { get; init; }

    /// <summary>Gets the round trip by temperature.</summary>
    public required ImmutableArray<RoundTripRow> RoundTrips { get; init; }

    /// <summary>Gets the compensation formula.</summary>
    public required SpeedCompensation Compensation { get; init; }

    /// <summary>Gets the worked values.</summary>
    public required ImmutableArray<WorkedCheck> Checks { get; init; }

    /// <summary>Gets the sensors.</summary>
    public required ImmutableArray<SensorFirmware> Sensors { get; init; }

    /// <summary>Gets the firing schedule of the pack: the layout's own where it keeps the margin, else the shortest safe one; the layout's
    /// own where none does.</summary>
    public required FiringReading Firing { get; init; }

    /// <summary>Gets the layout's own schedule, judged with the thresholds of the pack.</summary>
    public required FiringReading OwnFiring { get; init; }

    /// <summary>Gets the shortest schedule that keeps the margin; null when none up to half a second a slot does.</summary>
    public required FiringReading? ShortestFiring { get; init; }

    /// <summary>Gets the air in which ghosts and crosstalk of the pack's schedule come closest to a false report.</summary>
    public required AirState FiringAir { get; init; }

    /// <summary>Gets the same for the layout's own schedule.</summary>
    public required AirState OwnFiringAir { get; init; }

    /// <summary>Gets the alert distances by walking speed.</summary>
    public required ImmutableArray<AlertDistance> AlertDistances { get; init; }

    /// <summary>Gets the fastest walk at which every listening window still covers the first report, in the coldest air; 0 when none does. [m/s]</summary>
    public required double FastestWalkMetresPerSecond { get; init; }

    /// <summary>Gets the cautions of the pack.</summary>
    public required ImmutableArray<string> Cautions { get; init; }

    /// <summary>Gets whether the schedule of the pack keeps the margin that was asked for.</summary>
    public bool KeepsFiringMargin => Firing.SmallestMarginDecibels >= Demand.FiringMarginDecibels - 1e-9;
}
