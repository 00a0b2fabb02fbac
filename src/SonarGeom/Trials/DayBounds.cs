using SonarGeom.Echoes;
using SonarGeom.Geometry;

namespace SonarGeom.Trials;

/// <summary>The bounds of one sensor on one day for all obstacles of a place.</summary>
internal sealed class DayBounds
{
    private readonly EchoBounds _bounds;
    private readonly double[][][] _margin;
    private readonly double[][] _loudest;
    private readonly double[][] _largest;

    internal DayBounds(EchoBounds bounds, PreparedTransducer prepared, TrialPlace place, bool needsLevels)
    {
        _bounds = bounds;
        _margin = [.. place.Hazards.Select(h => h.Parts.Select(p => bounds.LargestMargin(prepared, p)).ToArray())];
        _largest = [.. _margin.Select(Envelope)];
        _loudest = needsLevels ? [.. place.Hazards.Select(h => Envelope([.. h.Parts.Select(p => bounds.Loudest(prepared, p))]))] : [];
    }

    /// <summary>Returns the largest margin that any part of an obstacle may have. [dB]</summary>
    internal double MarginDecibels(int hazard, double distanceMetres, double beamsDecibels) =>
        EchoBounds.From(_largest[hazard], distanceMetres) + beamsDecibels;

    /// <summary>Returns the largest margin that one part may have. [dB]</summary>
    internal double MarginDecibels(int hazard, int part, double distanceMetres, double beamsDecibels) =>
        EchoBounds.From(_margin[hazard][part], distanceMetres) + beamsDecibels;

    /// <summary>Returns the largest level that any part of an obstacle may have. [dB re 20 µPa]</summary>
    internal double LevelDecibels(int hazard, double distanceMetres, double beamsDecibels) =>
        EchoBounds.From(_loudest[hazard], distanceMetres) + beamsDecibels;

    /// <summary>Returns how loud both beams together are at most towards an obstacle. [dB]</summary>
    internal double BeamsDecibels(Vec3 sensorMetres, Vec3 boresight, in NearHazard one) =>
        _bounds.BeamsDecibels(one.LeastAngleRadians(sensorMetres, boresight));

    private static double[] Envelope(double[][] tables) =>
        tables.Length == 0 ? [.. Enumerable.Repeat(double.NegativeInfinity, 256)] : [.. Enumerable.Range(0, tables[0].Length).Select(i => tables.Max(t => t[i]))];
}
