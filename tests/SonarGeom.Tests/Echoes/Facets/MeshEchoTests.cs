using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Echoes.Facets;

/// <summary>Obstacles given by meshes against the closed forms of the same things.</summary>
public sealed class MeshEchoTests
{
    private static readonly PreparedTransducer Prepared = new(Coverage.CoverageBench.WidePair, EchoMedium.Standard);

    private static SensorAtPose Sensor(double height = 1.1, double azimuthDegrees = 0) => EchoBench.At(Prepared, new Vec3(0, 0, height), azimuthDegrees, 0);

    internal static MeshShape Shape(string name, TriangleMesh mesh, double loss = 0) => MeshShape.Of(name, [new MeshMaterial("", mesh, loss)]);

    private static PartEcho Echo(SensorAtPose sensor, Obstacle obstacle, Ground? ground = null) => PartEchoes.Evaluate(sensor, Assert.Single(obstacle.Parts(ground)));

    private static PartEcho Strongest(SensorAtPose sensor, Obstacle obstacle, Ground? ground = null) => ObstacleEcho.Strongest(sensor, obstacle.Parts(ground)).Echo;

    // 0.5 dB: the engines agree within 0.3 dB, and the strongest part of the closed forms leaves out the others of the same thing.
    [Theory]
    [InlineData(1.0, 0)]
    [InlineData(2.0, 0)]
    [InlineData(3.0, 0)]
    [InlineData(2.0, 15)]
    public void ABoardAsAMeshAnswersAsTheBoard(double range, double azimuthDegrees)
    {
        Obstacle board = Obstacle.Board("board", new Vec3(range, 0, 1.1), 0.5, 0.4) with { DepthMetres = 0.02 };
        Obstacle mesh = Obstacle.OfMesh("mesh", board.PositionMetres, Shape("board", (board with { PositionMetres = Vec3.Zero }).Mesh(), 3));
        PartEcho closed = Strongest(Sensor(azimuthDegrees: azimuthDegrees), board with { ReflectionLossDecibels = 3 }), integral = Echo(Sensor(azimuthDegrees: azimuthDegrees), mesh);
        Assert.Equal(closed.BandLevelDecibels, integral.BandLevelDecibels, 0.5);
        Assert.Equal(closed.RangeMetres, integral.RangeMetres, 0.01);
        Assert.True(closed.GlintMetres.DistanceTo(integral.GlintMetres) < 0.02, $"{closed.GlintMetres} and {integral.GlintMetres}");
        Assert.True(integral.IsSpecular);
    }

    [Theory]
    [InlineData(1.2)]
    [InlineData(2.5)]
    public void AFinePoleAsAMeshAnswersAsThePole(double range)
    {
        Obstacle pole = Obstacle.Pole("pole", new Vec3(range, 0.2, 0), 0.075, 2);
        TriangleMesh side = ShapeMeshes.Frustum(Vec3.Zero, 0.0375, new Vec3(0, 0, 2), 0.0375, 0.008 / 300);
        PartEcho closed = Strongest(Sensor(), pole), integral = Echo(Sensor(), Obstacle.OfMesh("mesh", pole.PositionMetres, Shape("pole", side)));
        Assert.Equal(closed.BandLevelDecibels, integral.BandLevelDecibels, 0.5);
        Assert.Equal(closed.RangeMetres, integral.RangeMetres, 0.01);
    }

    // Two boards side by side, one 0.2 m behind the other: arrivals at two times. Added up they would stand 2 dB and more above one alone.
    [Fact]
    public void ArrivalsAtDifferentTimesAreNotAddedUp()
    {
        TriangleMesh near = Board(2.0, 0.2), far = Board(2.2, -0.2);
        PartEcho one = Echo(Sensor(), Obstacle.OfMesh("near", Vec3.Zero, Shape("near", near)));
        PartEcho other = Echo(Sensor(), Obstacle.OfMesh("far", Vec3.Zero, Shape("far", far)));
        PartEcho both = Echo(Sensor(), Obstacle.OfMesh("both", Vec3.Zero, MeshShape.Of("both", [new MeshMaterial("a", near), new MeshMaterial("b", far)])));
        Assert.InRange(both.BandLevelDecibels, Math.Max(one.BandLevelDecibels, other.BandLevelDecibels) - 1, Math.Max(one.BandLevelDecibels, other.BandLevelDecibels) + 1);
        Assert.True(Math.Abs(one.BandLevelDecibels - other.BandLevelDecibels) < 4, $"{one.BandLevelDecibels} and {other.BandLevelDecibels} dB");
        Assert.Equal(one.BandLevelDecibels > other.BandLevelDecibels ? one.RangeMetres : other.RangeMetres, both.RangeMetres, 0.02);

        static TriangleMesh Board(double x, double y) => (Obstacle.Board("b", new Vec3(x, y, 1.1), 0.4, 0.4) with { DepthMetres = 0.02 }).Mesh();
    }

    [Fact]
    public void AMaterialOfMoreLossAnswersWeakerAndHiddenFacetsNotAtAll()
    {
        TriangleMesh front = (Obstacle.Board("b", new Vec3(2, 0, 1.1), 0.4, 0.4) with { DepthMetres = 0.02 }).Mesh();
        TriangleMesh behind = (Obstacle.Board("b", new Vec3(2.2, 0, 1.1), 0.3, 0.3) with { DepthMetres = 0.02 }).Mesh();
        double hard = Level(0, false), soft = Level(12, false), shaded = Level(12, true);
        Assert.Equal(12, hard - soft, 0.01);
        Assert.Equal(soft, shaded, 0.3);

        double Level(double loss, bool withBehind) => Echo(Sensor(), Obstacle.OfMesh("m", Vec3.Zero, MeshShape.Of(
            "m", withBehind ? [new MeshMaterial("felt", front, loss), new MeshMaterial("steel", behind)] : [new MeshMaterial("felt", front, loss)]))).BandLevelDecibels;
    }

    [Fact]
    public void ABlockOnTheGroundGetsTheCornerWithIt()
    {
        Obstacle kerb = Obstacle.Wall("wall", new Vec3(1.5, 0, 0), 2, 0.12) with { DepthMetres = 0.3 };
        Obstacle mesh = Obstacle.OfMesh("mesh", kerb.PositionMetres, Shape("kerb", (kerb with { PositionMetres = Vec3.Zero }).Mesh()));
        SensorAtPose sensor = EchoBench.At(Prepared, new Vec3(0, 0, 1.0), 0, -30);
        PartEcho bare = Echo(sensor, mesh), onGround = Echo(sensor, mesh, Ground.SmoothTile);
        PartEcho corner = PartEchoes.Evaluate(sensor, kerb.Parts(Ground.SmoothTile).OfType<CornerPart>().Single());
        Assert.True(onGround.BandLevelDecibels > bare.BandLevelDecibels + 3, $"{bare.BandLevelDecibels} and {onGround.BandLevelDecibels} dB");

        // The upper edge and the top take part in the mesh.
        Assert.Equal(corner.BandLevelDecibels, onGround.BandLevelDecibels, 2.0);
    }

    [Fact]
    public void TheMirroredMeshGivesTheMirroredEcho()
    {
        for (int seed = 0; seed < 6; seed++)
        {
            var random = new Random(seed);
            Obstacle box = Obstacle.Box("box", Vec3.Zero, 0.3, 0.4, 0.5) with { Yaw = Angle.FromDegrees(60 * (random.NextDouble() - 0.5)) };
            TriangleMesh here = box.Mesh();
            var there = new TriangleMesh([.. here.Vertices.Select(v => v.MirroredLeftRight())], [.. here.Facets.Select(f => new Facet(f.A, f.C, f.B))]);
            var place = new Vec3(1 + (2 * random.NextDouble()), random.NextDouble() - 0.5, 0.8);
            double azimuth = 30 * (random.NextDouble() - 0.5);
            // One point sends and receives here, so that the sensor is its own mirror image.
            var alike = new PreparedTransducer(Coverage.CoverageBench.WidePair with { TransmitterOffsetMetres = Vec3.Zero, ReceiverOffsetMetres = Vec3.Zero }, EchoMedium.Standard);
            PartEcho one = Echo(EchoBench.At(alike, new Vec3(0, 0, 1.1), azimuth, 0), Obstacle.OfMesh("m", place, Shape("m", here)));
            PartEcho other = Echo(EchoBench.At(alike, new Vec3(0, 0, 1.1), -azimuth, 0), Obstacle.OfMesh("m", place.MirroredLeftRight(), Shape("m", there)));
            Assert.Equal(one.BandLevelDecibels, other.BandLevelDecibels, 1e-6);
            Assert.Equal(one.RangeMetres, other.RangeMetres, 1e-9);
        }
    }

    // What the coarse cutting of large facets leaves, of all echoes that a sensor could hear within 12 dB: it is in the error that verdicts take off.
    [Fact]
    public void TheEstimatedErrorCoversWhatFinerFacetsChange()
    {
        var off = new List<double>();
        for (int seed = 0; seed < 60; seed++)
        {
            var random = new Random(seed);
            TriangleMesh thing = seed % 3 == 0
                ? Round(192)
                : (Obstacle.Box("box", Vec3.Zero, 0.1 + random.NextDouble(), 0.05 + random.NextDouble(), 0.1 + random.NextDouble()) with { Yaw = Angle.FromDegrees(90 * random.NextDouble()) }).Mesh();
            Obstacle mesh = Obstacle.OfMesh("mesh", new Vec3(1 + (2 * random.NextDouble()), random.NextDouble() - 0.5, 0), Shape("mesh", thing));
            SensorAtPose sensor = EchoBench.At(Prepared, new Vec3(0, 0, 0.4 + (0.8 * random.NextDouble())), 20 * (random.NextDouble() - 0.5), -15 * random.NextDouble());
            var part = (MeshPart)Assert.Single(mesh.Parts(Ground.SmoothTile));
            PartEcho usual = MeshEcho.Evaluate(sensor, part, Vec3.Zero), finer = MeshEcho.Evaluate(sensor, part, Vec3.Zero, MeshEcho.FinerRatio);
            if (finer.BandLevelDecibels > Prepared.DetectionThresholdDecibels(finer.RangeMetres) - 12)
            {
                off.Add(usual.BandLevelDecibels - finer.BandLevelDecibels);
            }
        }

        Assert.True(off.Count > 30, $"{off.Count} poses");
        Assert.All(off, o => Assert.InRange(o, 0.3 - MeshEcho.EstimatedErrorDecibels, MeshEcho.EstimatedErrorDecibels - 0.3));
    }

    [Fact]
    public void APoleOfSixteenSidesIsTooCoarseAndOneOfManyIsNot()
    {
        double wavelength = 343.0 / 42000;
        Assert.Contains("too coarse", Assert.Single(MeshSurfaces.WithheldFor(Shape("pole", Round(16)), 42000, wavelength)), StringComparison.Ordinal);
        Assert.Empty(MeshSurfaces.WithheldFor(Shape("pole", Round(192)), 42000, wavelength));
    }

    internal static TriangleMesh Round(int sides)
    {
        var vertices = ImmutableArray.CreateBuilder<Vec3>();
        var facets = ImmutableArray.CreateBuilder<Facet>();
        for (int i = 0; i < sides; i++)
        {
            (double s, double c) = Math.SinCos(2 * Math.PI * i / sides);
            vertices.Add(new Vec3(0.0375 * c, 0.0375 * s, 0));
            vertices.Add(new Vec3(0.0375 * c, 0.0375 * s, 2));
            int n = (i + 1) % sides;
            facets.Add(new Facet(2 * i, 2 * n, (2 * n) + 1));
            facets.Add(new Facet(2 * i, (2 * n) + 1, (2 * i) + 1));
        }

        return new TriangleMesh(vertices.ToImmutable(), facets.ToImmutable());
    }
}
