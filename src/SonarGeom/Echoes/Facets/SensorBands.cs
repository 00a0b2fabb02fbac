using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Facets;

/// <summary>Sensors and frequencies in the form that the surface integral takes them.</summary>
public static class SensorBands
{
    /// <summary>Returns the frequencies over which band means of a sensor are taken.</summary>
    /// <param name="sensor">The sensor.</param>
    public static FrequencyBand Burst(SensorAtPose sensor)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        var spectrum = sensor.Prepared.Spectrum;
        return new FrequencyBand(spectrum.FrequenciesHertz[0], spectrum.SpacingHertz, spectrum.FrequenciesHertz.Length);
    }

    /// <summary>Returns a sensor for the surface integral.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="band">The band in which the absorption is followed.</param>
    public static FacetSensor FacetSensor(SensorAtPose sensor, FrequencyBand band)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        EchoMedium air = sensor.Prepared.Medium;
        return new FacetSensor(
            sensor.TransmitterMetres,
            sensor.ReceiverMetres,
            sensor.WorldFromSensor.Rotation,
            sensor.Transducer.Transmit,
            sensor.Transducer.Receive,
            FacetMedium.Of(
                air.SoundSpeedMetresPerSecond, band, hertz => air.AbsorptionDecibelsPerMetre(Frequency.FromHertz(hertz))));
    }

    /// <summary>Returns the longest path whose echo still begins while the sensor listens. [m]</summary>
    /// <param name="sensor">The sensor.</param>
    public static double FarthestPathMetres(SensorAtPose sensor)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        return 2.0 * sensor.Prepared.WindowRangeMetres;
    }
}
