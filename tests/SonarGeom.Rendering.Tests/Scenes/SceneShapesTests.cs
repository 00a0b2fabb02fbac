using SonarGeom.Geometry;
using SonarGeom.Rendering.Grids;
using SonarGeom.Rendering.Scenes;

namespace SonarGeom.Rendering.Tests.Scenes;

public class SceneShapesTests
{
    [Fact]
    public void Shapes_are_closed_and_fill_their_volume()
    {
        // 24 sides: a regular polygon fills sin(2π/24)·24/(2π) = 0.9886 of its circle.
        const double polygon = 0.98862;
        Check(SceneShapes.Cylinder(new(0, 0, 0), new(1, 2, 2), 0.5), 3 * Math.PI * 0.25 * polygon, 1e-4);
        Check(SceneShapes.Cylinder(new(0, 0, 0), new(0, 0, 3), 0.5, 0), Math.PI * 0.25 * polygon, 1e-4);
        Check(SceneShapes.Box(new(0, -1, 2), new(3, 1, 4)), 12, 1e-12);
        Check(SceneShapes.Sphere(new(1, 2, 3), 0.7), 4 * Math.PI / 3 * 0.343, 0.06);

        // A shaft of 10 mm radius and a point 70 mm long, 26 mm in radius.
        double arrow = Math.PI * ((0.93 * 0.01 * 0.01) + (0.07 * 0.026 * 0.026 / 3)) * polygon;
        Check(SceneShapes.Arrow(new(0, 0, 0), new(0, 1, 0), 0.01), arrow, 1e-4);
    }

    [Fact]
    public void Extruded_cells_are_closed_whatever_their_depths()
    {
        for (int seed = 0; seed < 40; seed++)
        {
            var random = new Random(seed);
            var axis = new GridAxis(0.5, 1, 4);
            double[] from = new double[16];
            double[] to = new double[16];
            double volume = 0;
            for (int i = 0; i < 16; i++)
            {
                from[i] = random.Next(4) == 0 ? double.NaN : random.Next(3);
                to[i] = from[i] + random.Next(4);
                volume += to[i] > from[i] ? to[i] - from[i] : 0;
            }

            TriangleMesh solid = CellExtrusion.Solid(axis, axis, from, to);
            Assert.True(Math.Abs(Volume(solid) - volume) < 1e-9, $"seed {seed}: {Volume(solid)} against {volume}");
            Assert.True(OpenArea(solid) < 1e-9, $"seed {seed}: open area {OpenArea(solid)}");
        }
    }

    [Fact]
    public void Wrong_numbers_of_cells_are_refused() =>
        Assert.Throws<ArgumentException>(() => CellExtrusion.Solid(new(0, 1, 2), new(0, 1, 2), new double[4], new double[3]));

    private static void Check(TriangleMesh mesh, double volume, double relativeTolerance)
    {
        Assert.InRange(Volume(mesh), volume * (1 - relativeTolerance) - 1e-12, volume * (1 + relativeTolerance) + 1e-12);
        Assert.True(OpenArea(mesh) < 1e-9);
    }

    /// <summary>By the divergence theorem; right for any closed surface.</summary>
    private static double Volume(TriangleMesh mesh) =>
        mesh.Facets.Sum(f => mesh.Vertices[f.A].Dot(mesh.Vertices[f.B].Cross(mesh.Vertices[f.C])) / 6);

    /// <summary>The length of the vector area, which is zero for a closed surface.</summary>
    private static double OpenArea(TriangleMesh mesh)
    {
        Vec3 sum = Vec3.Zero;
        foreach (Facet f in mesh.Facets)
        {
            sum += 0.5 * (mesh.Vertices[f.B] - mesh.Vertices[f.A]).Cross(mesh.Vertices[f.C] - mesh.Vertices[f.A]);
        }

        return sum.Length;
    }
}
