using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Layouts;
using SonarGeom.Quantities;

namespace SonarGeom.Studies;

/// <summary>What one probe's map comes to at one tilt of a sensor.</summary>
/// <param name="TiltDegrees">The tilt, positive up. [°]</param>
/// <param name="ProbeName">The probe.</param>
/// <param name="Shares">Shares of the bands warned in time by the whole layout, head first.</param>
/// <param name="FloorMarginDecibels">Largest margin of the sensor's floor echo over the stride: at 0 or more the bare floor is reported. [dB]</param>
public sealed record AimPoint(double TiltDegrees, string ProbeName, ImmutableArray<BandShare> Shares, double FloorMarginDecibels);

/// <summary>Turns one sensor degree by degree, while the maps of all probes follow.</summary>
public static class AimStudy
{
    /// <summary>Tilts a sensor and returns the shares of every map after each turn, as they come.</summary>
    /// <param name="layout">The layout on its wearer.</param>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="probes">The probes.</param>
    /// <param name="walk">Walking, reaction and braking.</param>
    /// <param name="settings">Grid and search distances.</param>
    /// <param name="tiltsDegrees">The tilts, positive up; from one to the next up to 3° the maps follow at once. [°]</param>
    /// <param name="cancellation">Stops the work.</param>
    /// <exception cref="ArgumentException">A tilt is impossible.</exception>
    public static IEnumerable<AimPoint> Of(
        PosedLayout layout, int sensor, ImmutableArray<Probe> probes, WalkSettings walk, MapSettings settings, IEnumerable<double> tiltsDegrees,
        CancellationToken cancellation = default)
    {
        ArgumentNullException.ThrowIfNull(layout);
        ArgumentNullException.ThrowIfNull(tiltsDegrees);
        SensorPlacement placement = layout.Layout.Sensors[sensor];
        KeptMaps? maps = null;
        foreach (double tilt in tiltsDegrees)
        {
            SensorPlacement turned = placement with { Mount = placement.Mount with { Tilt = Angle.FromDegrees(tilt) } };
            maps = maps is null
                ? KeptMaps.Of(layout.WithSensor(sensor, turned), walk, settings, probes, isForSharesOnly: true, followed: [sensor], cancellation)
                : maps.WithSensor(sensor, turned, cancellation);
            foreach (ApproachMap map in maps.Maps)
            {
                yield return new AimPoint(tilt, map.Probe.Name, map.Shares(), maps.Layout.FloorMarginDecibels(sensor));
            }
        }
    }
}
