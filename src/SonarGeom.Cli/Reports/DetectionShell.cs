using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;

namespace SonarGeom.Cli.Reports;

/// <summary>The closed surface around a sensor on which a probe is just detected.</summary>
internal static class DetectionShell
{
    private const double RingStepDegrees = 5;
    private const int Around = 48;
    private const double MarchMetres = 0.10;
    private const int Halvings = 5;
    private const double FarthestMetres = 6;

    /// <summary>Returns the shell of one sensor at the first stride phase; without facets when nothing is heard.</summary>
    /// <remarks>
    /// In each direction of a polar grid about the boresight the range is the largest one at which the margin is 0 dB or more:
    /// marched inward from the end of the listening window, then halved to 3 mm.
    /// </remarks>
    internal static TriangleMesh Of(PosedLayout posed, int sensor, ProbeTarget target)
    {
        SensorAtPose pose = posed.Sensor(sensor, 0);
        Vec3 origin = pose.MidpointMetres;
        Rotation axes = pose.WorldFromSensor.Rotation;
        int rings = (int)(90 / RingStepDegrees);
        var vertices = new Vec3[2 + ((rings - 1) * Around)];
        vertices[0] = origin;
        vertices[1] = At(0, 0);
        Parallel.For(0, rings - 1, ring =>
        {
            for (int i = 0; i < Around; i++)
            {
                vertices[2 + (ring * Around) + i] = At((ring + 1) * RingStepDegrees * Math.PI / 180, 2 * Math.PI * i / Around);
            }
        });
        return new([.. vertices], Facets(rings - 1));

        Vec3 At(double offAxis, double around)
        {
            (double sine, double cosine) = Math.SinCos(offAxis);
            (double up, double left) = Math.SinCos(around);
            Vec3 direction = axes.Apply(new Vec3(cosine, sine * left, sine * up));
            return origin + (RangeMetres(posed, sensor, target, origin, direction) * direction);
        }
    }

    /// <summary>Returns the largest range at which the probe is heard in a direction; 0 if none. [m]</summary>
    internal static double RangeMetres(PosedLayout posed, int sensor, ProbeTarget target, Vec3 origin, Vec3 unitDirection)
    {
        double reach = Math.Min(posed.ReachMetres(sensor), FarthestMetres);
        for (double range = reach; range > 0; range -= MarchMetres)
        {
            if (posed.MarginDecibels(sensor, 0, target, origin + (range * unitDirection)) < 0)
            {
                continue;
            }

            double heard = range, silent = Math.Min(reach, range + MarchMetres);
            for (int i = 0; i < Halvings && heard < reach; i++)
            {
                double middle = 0.5 * (heard + silent);
                bool isHeard = posed.MarginDecibels(sensor, 0, target, origin + (middle * unitDirection)) >= 0;
                (heard, silent) = isHeard ? (middle, silent) : (heard, middle);
            }

            return heard;
        }

        return 0;
    }

    // Vertex 0 is the sensor, 1 the point on the boresight, then the rings; seen from outside each facet runs counter-clockwise.
    private static ImmutableArray<Facet> Facets(int rings)
    {
        int Vertex(int ring, int i) => 2 + (ring * Around) + (i % Around);
        var facets = ImmutableArray.CreateBuilder<Facet>();
        for (int i = 0; i < Around; i++)
        {
            facets.Add(new(1, Vertex(0, i), Vertex(0, i + 1)));
            facets.Add(new(0, Vertex(rings - 1, i + 1), Vertex(rings - 1, i)));
            for (int ring = 0; ring + 1 < rings; ring++)
            {
                facets.Add(new(Vertex(ring, i), Vertex(ring + 1, i), Vertex(ring + 1, i + 1)));
                facets.Add(new(Vertex(ring, i), Vertex(ring + 1, i + 1), Vertex(ring, i + 1)));
            }
        }

        return facets.ToImmutable();
    }
}
