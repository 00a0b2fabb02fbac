using System.Collections.Immutable;
using SonarGeom.Echoes.Waveforms;
using SonarGeom.Obstacles;

namespace SonarGeom.Studies;

/// <summary>The floor echo of one sensor at one tilt, over the stride.</summary>
/// <param name="TiltDegrees">Tilt, positive up. [°]</param>
/// <param name="MarginDecibels">Largest level over threshold or noise; −300 when the floor is silent. [dB]</param>
/// <param name="LevelDecibels">Level there. [dB re 20 µPa]</param>
/// <param name="RangeMetres">Range there; 0 when the floor is silent. [m]</param>
/// <param name="ArrivalSeconds">When it arrives after the start of the burst; 0 when the floor is silent. [s]</param>
/// <param name="FirstCrossingMetres">Shortest range at which the floor is reported; null if it never is. [m]</param>
/// <param name="KerbMarginDecibels">Largest margin of the reference kerb by itself. [dB]</param>
/// <param name="MasksKerb">Whether in some stride phase the kerb would be heard but the floor is reported before it.</param>
public readonly record struct FloorAtTilt(
    double TiltDegrees,
    double MarginDecibels,
    double LevelDecibels,
    double RangeMetres,
    double ArrivalSeconds,
    double? FirstCrossingMetres,
    double KerbMarginDecibels,
    bool MasksKerb);

/// <summary>The risk that one sensor reports one kind of floor.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Ground">The floor.</param>
/// <param name="Now">The floor echo as mounted.</param>
/// <param name="Curve">The floor echo at other tilts, from the lowest up.</param>
/// <param name="AlertTiltDegrees">Highest tilt at which the floor is reported; null if it is at none. [°]</param>
/// <param name="MaskTiltDegrees">Highest tilt at which it masks the reference kerb; null if it does at none. [°]</param>
public sealed record FloorRisk(
    string Sensor, Ground Ground, FloorAtTilt Now, ImmutableArray<FloorAtTilt> Curve, double? AlertTiltDegrees, double? MaskTiltDegrees)
{
    /// <summary>Gets whether the floor is reported as mounted.</summary>
    public bool IsFalseAlert => Now.FirstCrossingMetres is not null;

    /// <summary>Gets by how much the threshold would have to rise to remove the alert; 0 without one. [dB]</summary>
    public double ThresholdRiseDecibels => IsFalseAlert ? Math.Max(0, Now.MarginDecibels) : 0;

    /// <summary>Gets the tilt above which the floor is silent; null when the sensor does not report the floor as mounted, or does at every
    /// tilt. [°]</summary>
    public double? SilentAboveDegrees => IsFalseAlert && AlertTiltDegrees < Curve[^1].TiltDegrees ? AlertTiltDegrees : null;
}

/// <summary>The risk that one sensor reports a part of its own wearer.</summary>
/// <param name="Sensor">Name of the sensor.</param>
/// <param name="Echo">The part in its worst stride phase.</param>
/// <param name="SilentTiltDegrees">The tilt nearest to the mounted one at which the part stays silent through the stride; null when it is
/// silent as mounted, or at no tilt. [°]</param>
public sealed record OwnRisk(string Sensor, OwnEcho Echo, double? SilentTiltDegrees);

/// <summary>False alerts by the floor and by the wearer's own limbs.</summary>
/// <param name="KerbDistanceMetres">Distance of the reference kerb from the body: the last at which a warning is in time. [m]</param>
/// <param name="KerbHeightMetres">Height of the reference kerb. [m]</param>
/// <param name="Floors">A row for each sensor and kind of floor.</param>
/// <param name="Own">A row for each sensor and part of the wearer that it meets.</param>
public sealed record FalseAlerts(
    double KerbDistanceMetres, double KerbHeightMetres, ImmutableArray<FloorRisk> Floors, ImmutableArray<OwnRisk> Own);
