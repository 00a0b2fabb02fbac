using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Tests.Echoes;

namespace SonarGeom.Tests.Obstacles;

public class ObstacleTests
{
    public static TheoryData<ObstacleKind> Kinds => [.. RandomObstacles.Kinds];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_kind_has_parts_a_closed_mesh_and_a_box_around_it(ObstacleKind kind)
    {
        for (int seed = 0; seed < 8; seed++)
        {
            Obstacle obstacle = RandomObstacles.Of(kind, new Random(seed));
            Assert.NotEmpty(obstacle.Parts(Ground.SmoothTile));
            Assert.NotEmpty(obstacle.Solids());
            TriangleMesh mesh = obstacle.Mesh();
            var edges = new Dictionary<(Vec3, Vec3), int>();
            double volume = 0;
            foreach (Facet facet in mesh.Facets)
            {
                Vec3 a = mesh.Vertices[facet.A];
                Vec3 b = mesh.Vertices[facet.B];
                Vec3 c = mesh.Vertices[facet.C];
                volume += a.Dot(b.Cross(c)) / 6;
                foreach ((Vec3, Vec3) edge in new[] { (a, b), (b, c), (c, a) })
                {
                    edges[edge] = edges.GetValueOrDefault(edge) + 1;
                }
            }

            // Closed and turned outwards: every edge is met as often in the one sense as in the other, and the volume is positive.
            Assert.All(edges, e => Assert.Equal(e.Value, edges.GetValueOrDefault((e.Key.Item2, e.Key.Item1))));
            Assert.True(volume > 0, $"{kind}, seed {seed}: {volume} m³");
            BoundingBox box = obstacle.Bounds();
            Assert.All(mesh.Vertices, v => Assert.True(
                v.X >= box.LowMetres.X - 1e-9 && v.X <= box.HighMetres.X + 1e-9 && v.Y >= box.LowMetres.Y - 1e-9 && v.Y <= box.HighMetres.Y + 1e-9
                && v.Z >= box.LowMetres.Z - 1e-9 && v.Z <= box.HighMetres.Z + 1e-9));
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_kind_refuses_missing_sizes_by_name(ObstacleKind kind)
    {
        ArgumentException fault = Assert.Throws<ArgumentException>(() => new Obstacle("it", kind, new Vec3(1, 0, 0)).Validated());
        Assert.Contains("'it'", fault.Message);
        Assert.Contains("0 m", fault.Message);
        Assert.Throws<ArgumentException>(() => new Obstacle("it", kind, new Vec3(1, 0, 0)).Parts(null));
    }

    [Theory]
    [InlineData(0)]
    [InlineData(-0.1)]
    [InlineData(double.NaN)]
    [InlineData(double.PositiveInfinity)]
    [InlineData(201)]
    public void Sizes_out_of_range_are_refused(double size)
    {
        Assert.Throws<ArgumentException>(() => Obstacle.Pole("p", Vec3.Zero, size, 2));
        Assert.Throws<ArgumentException>(() => Obstacle.Pole("p", Vec3.Zero, 0.1, size));
        Assert.Throws<ArgumentException>(() => Obstacle.Board("b", Vec3.Zero, 0.3, size));
        Assert.Throws<ArgumentException>(() => Obstacle.Sphere("s", Vec3.Zero, size));
    }

    [Fact]
    public void Faults_say_what_was_given_and_what_is_allowed()
    {
        ArgumentException fault = Assert.Throws<ArgumentException>(() => Obstacle.Pole("lamp post 3", Vec3.Zero, -0.1, 2));
        Assert.Equal("Obstacle 'lamp post 3' (Pole): diameter is -0.1 m; it must be above 0 m and at most 200 m.", fault.Message);
    }

    [Fact]
    public void Caps_must_fit()
    {
        Assert.Throws<ArgumentException>(() => Obstacle.Bollard("b", Vec3.Zero, 0.16, 0.9, CapShape.Domed, 0));
        Assert.Throws<ArgumentException>(() => Obstacle.Bollard("b", Vec3.Zero, 0.16, 0.9, CapShape.Domed, 0.09));
        Assert.Throws<ArgumentException>(() => Obstacle.Bollard("b", Vec3.Zero, 0.16, 0.9, CapShape.Chamfered, 0.08));
        Obstacle.Bollard("b", Vec3.Zero, 0.16, 0.9, CapShape.Domed, 0.08);
        Obstacle.Bollard("b", Vec3.Zero, 0.16, 0.9, CapShape.Flat);
    }

    [Fact]
    public void A_board_faces_the_walker_and_turns_left()
    {
        var square = (PolygonPart)Obstacle.Board("b", new Vec3(2, 0, 1), 0.3, 0.3).Parts(null)[0];
        Assert.True((square.Normal - new Vec3(-1, 0, 0)).Length < 1e-12);
        var turned = (PolygonPart)(Obstacle.Board("b", new Vec3(2, 0, 1), 0.3, 0.3) with { Yaw = Angle.FromDegrees(30) }).Parts(null)[0];
        Assert.True((turned.Normal - new Vec3(-Math.Cos(Math.PI / 6), -0.5, 0)).Length < 1e-12);
        var pitched = (PolygonPart)(Obstacle.Board("b", new Vec3(2, 0, 1), 0.3, 0.3) with { Pitch = Angle.FromDegrees(30) }).Parts(null)[0];
        Assert.True(pitched.Normal.Z < -0.4, "a board pitched up faces down");
    }

    [Fact]
    public void A_dome_meets_the_shoulder_and_the_crown()
    {
        Obstacle bollard = Obstacle.Bollard("b", Vec3.Zero, 0.16, 0.9, CapShape.Domed, 0.05);
        DomePart dome = bollard.Parts(null).OfType<DomePart>().Single();
        Assert.Equal(0.9, dome.CentreMetres.Z + dome.RadiusMetres, 1e-12);
        Assert.Equal(0.85, dome.CentreMetres.Z + (dome.RadiusMetres * Math.Cos(dome.HalfAngle.Radians)), 1e-12);
        Assert.Equal(0.08, dome.RadiusMetres * Math.Sin(dome.HalfAngle.Radians), 1e-12);
    }

    [Fact]
    public void Degenerate_parts_are_refused()
    {
        Assert.Throws<ArgumentException>(() => new CylinderPart("rod", Vec3.Zero, Vec3.Zero, 0.01));
        Assert.Throws<ArgumentOutOfRangeException>(() => new CylinderPart("rod", Vec3.Zero, Vec3.UnitX, 0));
        Assert.Throws<ArgumentException>(() => new PolygonPart("p", [Vec3.Zero, Vec3.UnitX, 2 * Vec3.UnitX]));
        Assert.Throws<ArgumentException>(() => new PolygonPart("p", [Vec3.Zero, Vec3.UnitX, new Vec3(1, 1, 0.1), Vec3.UnitY]));
        Assert.Throws<ArgumentException>(() => new DiscPart("d", Vec3.Zero, Vec3.Zero, 0.1));
        Assert.Throws<ArgumentOutOfRangeException>(() => new SpherePart("s", Vec3.Zero, double.NaN));
        Assert.Throws<ArgumentException>(() => new RopePart("r", [Vec3.Zero], 0.01));
    }

    [Fact]
    public void Sets_refuse_two_of_a_name()
    {
        Obstacle pole = Obstacle.Pole("pole", new Vec3(1, 0, 0), 0.1, 2);
        Assert.Throws<ArgumentException>(() => new ObstacleSet("set", "two alike", null, [pole, pole]));
    }

    [Fact]
    public void Grounds_refuse_what_scatters_more_than_everything()
    {
        Assert.Throws<ArgumentOutOfRangeException>(() => new Ground("bright", 0, -3, "none", "none"));
        Assert.Throws<ArgumentOutOfRangeException>(() => new Ground("deep", -1e-3, -20, "none", "none"));
        Assert.All(Ground.Presets, g => Assert.Contains("assumption", g.Confidence));
    }
}
