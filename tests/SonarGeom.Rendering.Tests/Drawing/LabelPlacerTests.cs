using SonarGeom.Rendering.Drawing;

namespace SonarGeom.Rendering.Tests.Drawing;

public class LabelPlacerTests
{
    [Fact]
    public void Labels_that_have_room_stay_and_crowded_ones_spread_evenly()
    {
        Assert.Equal([10, 50, 90], LabelPlacer.Spread([10, 50, 90], [20, 20, 20], 0, 100));
        Assert.Equal([30, 50, 70], LabelPlacer.Spread([49, 50, 51], [20, 20, 20], 0, 100));
        Assert.Equal([10, 30], LabelPlacer.Spread([1, 2], [20, 20], 0, 100));
        Assert.Equal([70, 90], LabelPlacer.Spread([98, 99], [20, 20], 0, 100));
    }

    [Fact]
    public void Spread_labels_never_overlap_and_keep_their_order()
    {
        for (int seed = 0; seed < 200; seed++)
        {
            var random = new Random(seed);
            int n = random.Next(1, 9);
            double[] wanted = [.. Enumerable.Range(0, n).Select(_ => random.NextDouble() * 300)];
            double[] sizes = [.. Enumerable.Range(0, n).Select(_ => 5 + (random.NextDouble() * 30))];
            double[] at = LabelPlacer.Spread(wanted, sizes, 0, 300);
            for (int i = 0; i < n; i++)
            {
                for (int k = 0; k < i; k++)
                {
                    Assert.True(
                        Math.Abs(at[i] - at[k]) >= (0.5 * (sizes[i] + sizes[k])) - 1e-9, $"seed {seed}: {at[i]} and {at[k]}");
                    Assert.True(at[i] < at[k] == wanted[i] < wanted[k], $"seed {seed}");
                }
            }
        }
    }

    [Fact]
    public void A_label_goes_to_the_nearest_free_place_off_the_lines()
    {
        var placer = new LabelPlacer(new(0, 0, 200, 200));
        placer.Avoid(Outline.Line(150, 0, 150, 200));
        (Box box, bool isFar) = placer.Beside(120, 100, 40, 20, 6)!.Value;
        Assert.False(isFar);
        Assert.True(box.Right < 120);
        (Box second, _) = placer.Beside(120, 100, 40, 20, 6)!.Value;
        Assert.False(second.Overlaps(box));
        Assert.Null(placer.Beside(120, 100, 300, 20, 6));
    }
}
