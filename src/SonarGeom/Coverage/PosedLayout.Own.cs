using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Geometry;

namespace SonarGeom.Coverage;

/// <content>What a sensor meets of its own wearer.</content>
public sealed partial class PosedLayout
{
    /// <summary>Returns the wearer's limbs and cane as one sensor meets them; the one that carries it is left out.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    public ImmutableArray<OwnPart> OwnParts(int sensor, int phase)
    {
        SegmentId carrier = Body.Site(Layout.Sensors[sensor].Mount.Site).Segment;
        return LimbReading.Parts(_sensors[sensor].Poses[phase], Poses[phase], carrier, _sensors[sensor].Shadows[phase]);
    }

    /// <summary>Returns the wearer's surface at a stride phase. The cane is thinner than a first Fresnel zone and left out.</summary>
    internal IRayScene WearerScene(int phase) => _wearer.Scene(phase);
}
