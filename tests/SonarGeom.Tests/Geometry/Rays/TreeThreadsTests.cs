using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;

namespace SonarGeom.Tests.Geometry.Rays;

/// <summary>A tree is the same, byte for byte, however many threads have built it.</summary>
public class TreeThreadsTests
{
    [Theory]
    [InlineData(1, 5_000, 0, 0)]
    [InlineData(2, 70_000, 0, 0)]
    [InlineData(3, 3_000, 60, 700)]
    [InlineData(4, 0, 190, 0)]
    [InlineData(5, 0, 0, 6_000)]
    public void TheNumberOfThreadsChangesNothing(int seed, int triangles, int sheet, int solids)
    {
        RandomScene random = new(seed);
        if (triangles > 0)
        {
            random.Triangles(triangles, 0.3);
        }

        if (sheet > 0)
        {
            random.Sheet(sheet, 0.2);
        }

        if (solids > 0)
        {
            random.Solids(solids, 0.3);
        }

        CheckThreads(random.Build);
    }

    // Boxes with one centre are halved by their order, and a thread alone does not cut as deep as it likes.
    [Fact]
    public void TrianglesInOnePlaceAreSharedOutTheSame()
    {
        RayScene.Builder builder = new();
        List<Vec3> vertices = [];
        List<Facet> facets = [];
        for (int i = 0; i < 6_000; i++)
        {
            double size = 1 + (1e-3 * (i % 7));
            vertices.AddRange([new(-size, -size, 0), new(size, -size, 0), new(0, size, 0)]);
            facets.Add(new(3 * i, (3 * i) + 1, (3 * i) + 2));
        }

        builder.AddMesh(new TriangleMesh([.. vertices], [.. facets]), 4);
        CheckThreads(builder.Build);
    }

    [Fact]
    public void ACrewWorksOnEveryPieceOnce()
    {
        using WorkCrew crew = new(3);
        for (int round = 0; round < 300; round++)
        {
            int count = 1 + (round * 7);
            var visits = new int[count];
            crew.ForEach(count, 5, (first, end) =>
            {
                for (int i = first; i < end; i++)
                {
                    Interlocked.Increment(ref visits[i]);
                }
            });
            Assert.All(visits, visit => Assert.Equal(1, visit));
        }
    }

    [Fact]
    public void AFaultIsToldWhenThePiecesAreDone()
    {
        using WorkCrew crew = new(2);
        int done = 0;
        Assert.Throws<InvalidOperationException>(() => crew.ForEach(100, 1, (first, _) =>
        {
            if (first == 50)
            {
                throw new InvalidOperationException();
            }

            Interlocked.Increment(ref done);
        }));
        Assert.Equal(99, done);
    }

    private static void CheckThreads(Func<int, RayScene> build)
    {
        RayScene one = build(1);
        foreach (int threads in new[] { 2, 3, 7, 0 })
        {
            for (int again = 0; again < 3; again++)
            {
                Assert.True(one.IsSameTreeAs(build(threads)), $"the tree of {threads} threads differs");
            }
        }
    }
}
