using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Quantities;

namespace SonarGeom.Studies.Firmware;

/// <summary>A formula of the speed of sound for a small processor: a straight line over the temperature, in whole numbers.</summary>
/// <remarks>Formula: <c>c = A + B·t</c>, fitted so that the largest error over temperature and humidity is least. The echo then gives
/// <c>R = c·τ/2</c>.</remarks>
public sealed record SpeedCompensation
{
    private SpeedCompensation(int atZero, int perDegree, double largestError, AirState worst)
    {
        AtZeroMillimetresPerSecond = atZero;
        PerDegreeMillimetresPerSecond = perDegree;
        LargestErrorFraction = largestError;
        WorstAir = worst;
    }

    /// <summary>Gets the speed at 0 °C, A. [mm/s]</summary>
    public int AtZeroMillimetresPerSecond { get; }

    /// <summary>Gets how much faster sound is for each °C, B. [mm/s for 1 °C]</summary>
    public int PerDegreeMillimetresPerSecond { get; }

    /// <summary>Gets the largest relative error of a range by this formula over the climate, by its size. [unitless]</summary>
    public double LargestErrorFraction { get; }

    /// <summary>Gets the air in which that error arises.</summary>
    public AirState WorstAir { get; }

    /// <summary>Fits the formula to a climate.</summary>
    /// <param name="climate">The climate.</param>
    /// <param name="model">The formula that it follows.</param>
    public static SpeedCompensation Fit(ClimateRange climate, SoundSpeedModel model = SoundSpeedModel.Humid)
    {
        ArgumentNullException.ThrowIfNull(climate);
        ImmutableArray<double> humidities = [climate.DriestPercent, 0.5 * (climate.DriestPercent + climate.DampestPercent), climate.DampestPercent];
        (AirState Air, double Celsius, double Speed)[] points =
        [
            .. climate.Temperatures(1).SelectMany(t => humidities.Select(h => climate.At(t, h)))
                .Select(air => (air, air.Temperature.DegreesCelsius, SoundSpeed.InMetresPerSecond(air, model))),
        ];

        // For a slope the best line lies midway between the extremes, and their distance is convex in the slope.
        double low = 0.3, high = 1.0;
        for (int i = 0; i < 100; i++)
        {
            double third = (high - low) / 3;
            (low, high) = Extremes(low + third).Spread < Extremes(high - third).Spread ? (low, high - third) : (low + third, high);
        }

        int perDegree = (int)Math.Round(500 * (low + high));
        int atZero = (int)Math.Round(1000 * Extremes(perDegree / 1000.0).Middle);
        (AirState worst, double error) = points
            .Select(p => (p.Air, Math.Abs((((atZero + (perDegree * p.Celsius)) / 1000) / p.Speed) - 1))).MaxBy(e => e.Item2);
        return new SpeedCompensation(atZero, perDegree, error, worst);

        (double Spread, double Middle) Extremes(double slope)
        {
            double least = double.PositiveInfinity, most = double.NegativeInfinity;
            foreach ((_, double celsius, double speed) in points)
            {
                double rest = speed - (slope * celsius);
                (least, most) = (Math.Min(least, rest), Math.Max(most, rest));
            }

            return (most - least, 0.5 * (least + most));
        }
    }

    /// <summary>Returns the speed by the formula. [m/s]</summary>
    /// <param name="temperature">The air temperature.</param>
    public double SpeedMetresPerSecond(Temperature temperature) =>
        (AtZeroMillimetresPerSecond + (PerDegreeMillimetresPerSecond * temperature.DegreesCelsius)) / 1000;

    /// <summary>Returns the range in whole numbers, as a small processor computes it: rounded toward 0. [mm]</summary>
    /// <param name="echoMicroseconds">The time from the start of the burst to the echo, from 0 to 1 000 000. [µs]</param>
    /// <param name="temperatureTenthsCelsius">The air temperature in tenths of a degree, from −200 to 500. [0.1 °C]</param>
    public int RangeMillimetres(int echoMicroseconds, int temperatureTenthsCelsius)
    {
        Finite.Within(echoMicroseconds, 0, 1_000_000, nameof(echoMicroseconds), "µs");
        Finite.Within(temperatureTenthsCelsius, -200, 500, nameof(temperatureTenthsCelsius), "tenths of a degree");
        long speed = AtZeroMillimetresPerSecond + ((long)PerDegreeMillimetresPerSecond * temperatureTenthsCelsius / 10);
        return (int)(speed * echoMicroseconds / 2_000_000);
    }
}
