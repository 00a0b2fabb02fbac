using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Quantities;

namespace SonarGeom.Studies;

/// <summary>Shares warned in time when the hazard closes in from the side, as when the wearer sidesteps or a cyclist comes.</summary>
public static class AzimuthStudy
{
    /// <summary>Returns the shares for directions from −60° to 60°.</summary>
    /// <param name="layout">The layout on its wearer.</param>
    /// <param name="probe">The probe; it faces the wearer along its path.</param>
    /// <param name="walk">Walking, reaction and braking.</param>
    /// <param name="settings">Grid and search distances; a coarse grid is enough for shares.</param>
    /// <param name="stepDegrees">Step between directions. [°]</param>
    public static ImmutableArray<AzimuthShare> Of(
        PosedLayout layout, Probe probe, WalkSettings walk, MapSettings settings, double stepDegrees = 15)
    {
        ArgumentNullException.ThrowIfNull(layout);
        var shares = ImmutableArray.CreateBuilder<AzimuthShare>();
        for (double azimuth = -60; azimuth <= 60 + 1e-9; azimuth += stepDegrees)
        {
            // A path from the left is a path from ahead for a wearer who is turned as far to the right.
            PosedLayout turned = azimuth == 0 ? layout : layout.TurnedBy(Angle.FromDegrees(-azimuth));
            shares.Add(new AzimuthShare(azimuth, new ApproachMapper(turned, walk, settings).Shares(probe)));
        }

        return shares.ToImmutable();
    }
}
