using SonarGeom.Cli.Reports;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Cli.Tests.Reports;

public class LeafDrawingTests
{
    [Fact]
    public void LeavesAreDrawnInsideTheFormAndTheSameEveryTime()
    {
        Obstacle hedge = Obstacle.Foliage("hedge", new Vec3(3, 0, 0), FoliageForm.Box, 0.6, 2, 1.6, 0.02, 4000) with { Yaw = Angle.FromDegrees(30) };
        var part = (FoliagePart)hedge.Parts(null)[0];
        TriangleMesh leaves = LeafDrawing.Of(part, 200);
        Assert.Equal(800, leaves.Facets.Length);
        Assert.True(leaves.Vertices.SequenceEqual(LeafDrawing.Of(part, 200).Vertices));

        // 7680 leaves are drawn by 200: three times as large, 84 mm from the middle to the tip.
        BoundingBox box = hedge.Bounds();
        Assert.All(leaves.Vertices, p => Assert.InRange(p.Z, box.LowMetres.Z - 0.085, box.HighMetres.Z + 0.085));
    }
}
