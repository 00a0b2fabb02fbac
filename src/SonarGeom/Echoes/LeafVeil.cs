using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>What foliage in front takes from the echo of something behind it.</summary>
/// <remarks>
/// A way of length ℓ among leaves keeps <c>exp(−N·A/2·ℓ)</c> of its power, out and back each: the mean shadow of leaves of area A, N to a
/// volume. What bends round the leaves reaches the target too and is not taken off. Gaps and gusts make that swing; it is not told.
/// Branches and stems are left out.
/// </remarks>
public static class LeafVeil
{
    /// <summary>Returns the loss of an echo out to a point and back, 0 or negative. [dB]</summary>
    /// <param name="leaves">The foliage.</param>
    /// <param name="offsetMetres">How far all foliage is displaced. [m]</param>
    /// <param name="sensor">The sensor.</param>
    /// <param name="glintMetres">The point that answers. [m]</param>
    public static double EchoLossDecibels(ImmutableArray<FoliagePart> leaves, Vec3 offsetMetres, SensorAtPose sensor, Vec3 glintMetres)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        double nepers = 0;
        for (int i = 0; !leaves.IsDefault && i < leaves.Length; i++)
        {
            FoliagePart one = leaves[i];
            nepers += one.ExtinctionPerMetre * (
                one.LengthWithinMetres(sensor.TransmitterMetres - offsetMetres, glintMetres - offsetMetres)
                + one.LengthWithinMetres(sensor.ReceiverMetres - offsetMetres, glintMetres - offsetMetres));
        }

        // Of power: half as many decibels as of amplitude.
        return -0.5 * EchoMedium.DecibelsPerNeper * nepers;
    }
}
