using System.Collections.Immutable;

namespace SonarGeom.Coverage;

/// <summary>The plane of a slice.</summary>
public enum SlicePlane
{
    /// <summary>Level, at a stated height: seen from above.</summary>
    Plan,

    /// <summary>Upright and along the path, at a stated lateral offset: seen from the wearer's right.</summary>
    Side,
}

/// <summary>Detection margin of one probe over a plan or side slice: the best sensor at a stated stride phase.</summary>
/// <param name="Plane">The plane.</param>
/// <param name="ProbeName">Name of the probe.</param>
/// <param name="AtMetres">Height of a plan slice, lateral offset (positive left) of a side slice. [m]</param>
/// <param name="StridePhaseFraction">Stride phase, 0 to 1. [unitless]</param>
/// <param name="FirstXMetres">X of the first column's centres. [m]</param>
/// <param name="FirstOtherMetres">Y (plan) or Z (side) of the first row's centres. [m]</param>
/// <param name="CellMetres">Edge of a cell. [m]</param>
/// <param name="Columns">Number of columns along X.</param>
/// <param name="Rows">Number of rows along Y or Z.</param>
/// <param name="MarginDecibels">Margin of the best sensor, row-major; −∞ where no sensor can hear anything. [dB]</param>
public sealed record MarginSlice(
    SlicePlane Plane,
    string ProbeName,
    double AtMetres,
    double StridePhaseFraction,
    double FirstXMetres,
    double FirstOtherMetres,
    double CellMetres,
    int Columns,
    int Rows,
    ImmutableArray<float> MarginDecibels);
