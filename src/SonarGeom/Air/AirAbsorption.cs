using SonarGeom.Quantities;

namespace SonarGeom.Air;

/// <summary>Absorption of sound by still air: losses to viscosity, heat conduction and molecular relaxation, not spreading.</summary>
public static class AirAbsorption
{
    /// <summary>
    /// The relative uncertainty of α to work with. Measurements in laboratory air at 30 and 200 kHz lie 13 to 23 % below
    /// the formula (Lawrence and Simmons, J. Acoust. Soc. Am. 71, 585 (1982), abstract): a judgement, wider than the
    /// ±10 % that the standard states. [unitless]
    /// </summary>
    public const double WorkingUncertaintyFraction = 0.25;

    private const double ReferencePascals = 101_325;
    private const double ReferenceKelvins = 293.15;
    private const double TriplePointKelvins = 273.16;

    /// <summary>Returns the pure-tone absorption coefficient α, one way. [dB/m]</summary>
    /// <param name="air">The state of the air.</param>
    /// <param name="frequency">The frequency of the tone.</param>
    /// <remarks>
    /// Source: ISO 9613-1:1993, Eqs. (3) to (5), with the humidity conversion of Annex B, Eqs. (B.1) to (B.3) (formulas
    /// seen second-hand; checked against the tables of the standard and of IEC 61094-3:2016). α/p depends only on f/p and
    /// humidity, so ultrasonic frequencies at ordinary pressure lie inside its range.
    /// </remarks>
    public static double DecibelsPerMetre(AirState air, Frequency frequency) =>
        new Coefficients(air).DecibelsPerMetre(frequency.Hertz);

    /// <summary>Fills in the absorption coefficient at many frequencies of the same air. [dB/m]</summary>
    /// <param name="air">The state of the air.</param>
    /// <param name="frequenciesHertz">The frequencies, each above 0. [Hz]</param>
    /// <param name="decibelsPerMetre">Receives the coefficients; at least as long. [dB/m]</param>
    /// <exception cref="ArgumentException"><paramref name="decibelsPerMetre"/> is too short.</exception>
    public static void Fill(AirState air, ReadOnlySpan<double> frequenciesHertz, Span<double> decibelsPerMetre)
    {
        if (decibelsPerMetre.Length < frequenciesHertz.Length)
        {
            throw new ArgumentException(
                $"The result holds {decibelsPerMetre.Length} values; {frequenciesHertz.Length} are needed.",
                nameof(decibelsPerMetre));
        }

        var coefficients = new Coefficients(air);
        for (int i = 0; i < frequenciesHertz.Length; i++)
        {
            decibelsPerMetre[i] = coefficients.DecibelsPerMetre(frequenciesHertz[i]);
        }
    }

    /// <summary>Returns the molar concentration of water vapour as ISO 9613-1 defines it. [%]</summary>
    /// <param name="air">The state of the air.</param>
    /// <remarks>Formula: <c>h = RH·(p_sat/p_r)/(p/p_r)</c>, <c>p_sat = p_r·10^(−6.8346·(273.16/T)^1.261 + 4.6151)</c>;
    /// ISO 9613-1:1993, Eqs. (B.1) to (B.3).</remarks>
    public static double MolarWaterVapourPercent(AirState air)
    {
        ArgumentNullException.ThrowIfNull(air);
        double exponent = (-6.8346 * Math.Pow(TriplePointKelvins / air.Temperature.Kelvins, 1.261)) + 4.6151;
        return air.RelativeHumidityPercent * Math.Pow(10, exponent) / (air.PressurePascals / ReferencePascals);
    }

    /// <summary>Returns the accuracy that the standard states for this air and frequency.</summary>
    /// <param name="air">The state of the air.</param>
    /// <param name="frequency">The frequency of the tone.</param>
    public static AbsorptionAccuracy AccuracyOf(AirState air, Frequency frequency)
    {
        double vapour = MolarWaterVapourPercent(air);
        double hertzPerPascal = frequency.Hertz / air.PressurePascals;
        if (hertzPerPascal is < 4e-4 or > 10 || air.PressurePascals >= 200_000 || vapour < 0.005)
        {
            return AbsorptionAccuracy.Outside;
        }

        return vapour is < 0.05 or > 5 ? AbsorptionAccuracy.TwentyPercent : AbsorptionAccuracy.TenPercent;
    }

    /// <summary>The parts of the formula that do not depend on frequency.</summary>
    private readonly struct Coefficients
    {
        private readonly double _classical;
        private readonly double _oxygenStrength;
        private readonly double _oxygenHertz;
        private readonly double _nitrogenStrength;
        private readonly double _nitrogenHertz;

        internal Coefficients(AirState air)
        {
            double h = MolarWaterVapourPercent(air);
            double pressureRatio = air.PressurePascals / ReferencePascals;
            double kelvins = air.Temperature.Kelvins;
            double temperatureRatio = kelvins / ReferenceKelvins;
            double root = Math.Sqrt(temperatureRatio);
            double toMinusFiveHalves = 1 / (temperatureRatio * temperatureRatio * root);

            // Eqs. (3) and (4): relaxation frequencies of oxygen and nitrogen.
            _oxygenHertz = pressureRatio * (24 + (4.04e4 * h * (0.02 + h) / (0.391 + h)));
            _nitrogenHertz = pressureRatio / root
                * (9 + (280 * h * Math.Exp(-4.170 * (Math.Pow(temperatureRatio, -1.0 / 3.0) - 1))));

            // Eq. (5), term by term; 8.686 turns nepers into decibels.
            _classical = 8.686 * 1.84e-11 / pressureRatio * root;
            _oxygenStrength = 8.686 * toMinusFiveHalves * 0.01275 * Math.Exp(-2239.1 / kelvins);
            _nitrogenStrength = 8.686 * toMinusFiveHalves * 0.1068 * Math.Exp(-3352.0 / kelvins);
        }

        internal double DecibelsPerMetre(double hertz)
        {
            double squared = hertz * hertz;
            return squared * (_classical
                + (_oxygenStrength / (_oxygenHertz + (squared / _oxygenHertz)))
                + (_nitrogenStrength / (_nitrogenHertz + (squared / _nitrogenHertz))));
        }
    }
}
