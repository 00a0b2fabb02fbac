using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Tests.Echoes.Facets;

/// <summary>Meshes of many facets: what they answer, and the memory that they take, which is counted and not timed.</summary>
public sealed class LargeMeshTests
{
    private static readonly SensorAtPose Sensor = EchoBench.At(new PreparedTransducer(Coverage.CoverageBench.WidePair, EchoMedium.Standard), new Vec3(0, 0, 1.0), 0, 0);

    [Fact]
    public void AMillionTrianglesLoadAndAnswerAsTheWallThatTheyMakeUp()
    {
        MeshShape wall = Wall(1000, 500);
        Assert.Equal(1_000_000, wall.FacetCount);
        PartEcho many = Echo(wall), few = Echo(Wall(2, 1));

        // Both are the same plane; the estimated error of the cutting is 0.3 dB.
        Assert.Equal(few.BandLevelDecibels, many.BandLevelDecibels, 0.3);
        Assert.False(many.IsSilent);
        Assert.Equal(2.0, many.RangeMetres, 0.01);
        Assert.Empty(EngineChoice.WithheldFor(Sensor.Prepared, Part(wall)));
    }

    [Fact]
    public void MemoryGrowsAsTheNumberOfFacets()
    {
        Used(40, 20);
        double small = Used(250, 125), large = Used(500, 250);
        Assert.True(large > 10e6, $"{large} bytes");
        Assert.InRange(large / small, 3.0, 4.6);

        static double Used(int across, int up)
        {
            // Of this thread, on which all of it is made: other tests run beside this one.
            long before = GC.GetAllocatedBytesForCurrentThread();
            MeshSurfaces.Of(Wall(across, up), 0);
            return GC.GetAllocatedBytesForCurrentThread() - before;
        }
    }

    private static PartEcho Echo(MeshShape shape) => PartEchoes.Evaluate(Sensor, Part(shape));

    private static MeshPart Part(MeshShape shape) => (MeshPart)Assert.Single(Obstacle.OfMesh("wall", new Vec3(2, 0, 0), shape).Parts(null));

    // A plane of 2 m by 2 m that faces the sensor.
    private static MeshShape Wall(int across, int up)
    {
        var vertices = ImmutableArray.CreateBuilder<Vec3>((across + 1) * (up + 1));
        for (int j = 0; j <= up; j++)
        {
            for (int i = 0; i <= across; i++)
            {
                vertices.Add(new Vec3(0, 1 - (2.0 * i / across), 2.0 * j / up));
            }
        }

        var facets = ImmutableArray.CreateBuilder<Facet>(2 * across * up);
        for (int j = 0; j < up; j++)
        {
            for (int i = 0; i < across; i++)
            {
                int a = (j * (across + 1)) + i, b = a + 1, d = a + across + 1, c = d + 1;
                facets.Add(new Facet(a, b, c));
                facets.Add(new Facet(a, c, d));
            }
        }

        return MeshEchoTests.Shape("wall", new TriangleMesh(vertices.MoveToImmutable(), facets.MoveToImmutable()));
    }
}
