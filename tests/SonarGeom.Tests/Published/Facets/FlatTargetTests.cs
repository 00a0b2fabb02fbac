using System.Numerics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Tests.Echoes.Facets;

namespace SonarGeom.Tests.Published.Facets;

public class FlatTargetTests
{
    // Near the nulls of the echo decibels mean nothing, so the difference is judged against the echo or a wall at the same range,
    // whichever matters. What subdivision leaves is far below it.
    private const double ShareOfEcho = 0.035;
    private const double ShareOfWall = 0.01;

    [Fact]
    public void EveryFlatTargetOfTheTableAgrees()
    {
        var rows = FacetTable.Read("flat_target_exact.csv");
        Assert.Equal(60, rows.Count);
        double worstRectangle = 0;
        double worstDisc = 0;
        foreach (var row in rows)
        {
            bool isRectangle = row["shape"] == "rectangle";
            TriangleMesh mesh = isRectangle
                ? TestShapes.Rectangle(row.Number("length_or_radius_m"), row.Number("width_m"))
                : TestShapes.Disc(row.Number("length_or_radius_m"), 360);
            var position = new Vec3(row.Number("sensor_x_m"), row.Number("sensor_y_m"), row.Number("sensor_z_m"));
            var sensor = FacetSensor.Omnidirectional(position, TestShapes.SoundSpeed);
            EchoSpectrum echo = SurfaceIntegral.Evaluate(FacetSurface.Of("target", mesh), sensor, FrequencyBand.Single(40_000));
            var expected = new Complex(row.Number("re_p"), row.Number("im_p"));
            Complex got = echo.Pressures[0];
            double wall = 0.5 / position.Length;
            double difference = (got - expected).Magnitude;
            worstRectangle = Math.Max(worstRectangle, isRectangle ? difference / wall : 0);
            worstDisc = Math.Max(worstDisc, isRectangle ? 0 : difference / wall);
            double allowed = Math.Max(ShareOfEcho * Math.Max(got.Magnitude, expected.Magnitude), ShareOfWall * wall);
            Assert.True(
                difference <= allowed,
                $"{row["shape"]} from {position}: {got} for {expected}; {difference / wall:P2} of a wall, {echo.FacetsSummed} facets");
        }

        // The complex difference, the common phase included, is far smaller still; the discs are polygons of 360 sides.
        Assert.True(worstRectangle < 0.0005, $"worst rectangle {worstRectangle:P3} of a wall");
        Assert.True(worstDisc < 0.003, $"worst disc {worstDisc:P3} of a wall");
    }
}
