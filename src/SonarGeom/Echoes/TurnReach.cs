using SonarGeom.Geometry;

namespace SonarGeom.Echoes;

/// <summary>What tells how far a turn of the sensor where it stands can change an echo: a <see cref="GrossEcho"/> over the echo itself, each figure rounded up.</summary>
internal readonly struct TurnReach
{
    private readonly Half _loud;
    private readonly Half _slope;
    private readonly Half _bend;
    private readonly Half _turning;
    private readonly Half _oddLoud;
    private readonly Half _oddSlope;
    private readonly Half _x;
    private readonly Half _y;
    private readonly Half _z;

    private TurnReach(in GrossEcho gross, double pressure, Half x, Half y, Half z)
    {
        (_loud, _slope, _bend) = (RoundedUp(gross.Loud / pressure), RoundedUp(gross.Slope / pressure), RoundedUp(gross.Bend / pressure));
        (_turning, _oddLoud, _oddSlope) = (RoundedUp(gross.Turning / pressure), RoundedUp(gross.OddLoud / pressure), RoundedUp(gross.OddSlope / pressure));
        (_x, _y, _z) = (x, y, z);
    }

    /// <summary>Nothing is known.</summary>
    internal static TurnReach Unknown => new(GrossEcho.Unknown, 1, default, default, default);

    /// <summary>The point that ratios are measured against, in the part's own place. [m]</summary>
    internal Vec3 Glint => new((double)_x, (double)_y, (double)_z);

    /// <summary>The figures.</summary>
    internal GrossEcho OverEcho => new((double)_loud, (double)_slope, (double)_bend, (double)_turning, (double)_oddLoud, (double)_oddSlope);

    /// <summary>Compares what an echo could come to with what it is.</summary>
    /// <param name="gross">What it could come to.</param>
    /// <param name="sensor">The sensor.</param>
    /// <param name="reflectionLossDecibels">Loss of the part's surface. [dB]</param>
    /// <param name="levelDecibels">The echo's level. [dB re 20 µPa]</param>
    internal static TurnReach Of(GrossSum gross, SensorAtPose sensor, double reflectionLossDecibels, double levelDecibels)
    {
        double pressure = Math.Pow(
            10, (levelDecibels - sensor.Transducer.SourceLevelDecibels - sensor.Prepared.Spectrum.BuildUpDecibels + reflectionLossDecibels) / 20);
        return new TurnReach(gross.Total, pressure, (Half)gross.Glint.X, (Half)gross.Glint.Y, (Half)gross.Glint.Z);
    }

    // Half precision holds eleven bits.
    private static Half RoundedUp(double figure) => double.IsNaN(figure) ? Half.PositiveInfinity : (Half)((figure * 1.001) + 1e-7);
}
