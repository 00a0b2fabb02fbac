using SonarGeom.Rendering.Grids;

namespace SonarGeom.Rendering.Tests.Grids;

public class RegionTracerTests
{
    [Fact]
    public void A_block_has_one_loop_of_four_corners()
    {
        var loop = Assert.Single(RegionTracer.Trace(5, 4, (c, r) => c is 1 or 2 && r is 1 or 2 && c < 3));
        Assert.Equal(4, loop.Count);
        Assert.Equal([(1, 1), (1, 3), (3, 1), (3, 3)], loop.Order());
    }

    [Fact]
    public void Loops_enclose_exactly_the_cells()
    {
        for (int seed = 0; seed < 100; seed++)
        {
            var random = new Random(seed);
            bool[] cells = [.. Enumerable.Range(0, 63).Select(_ => random.Next(2) == 0)];
            var loops = RegionTracer.Trace(9, 7, (c, r) => cells[(r * 9) + c]);
            double area = 0;
            foreach (var loop in loops)
            {
                for (int i = 0; i < loop.Count; i++)
                {
                    (int x1, int y1) = loop[i];
                    (int x2, int y2) = loop[(i + 1) % loop.Count];
                    area += 0.5 * ((x1 * y2) - (x2 * y1));
                    Assert.True(x1 == x2 != (y1 == y2), $"seed {seed}: a step is not along one axis");
                }
            }

            Assert.True(area == cells.Count(c => c), $"seed {seed}: {area} against {cells.Count(c => c)}");
        }
    }
}
