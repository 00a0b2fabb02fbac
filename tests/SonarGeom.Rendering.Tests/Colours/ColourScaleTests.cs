using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Tests.Colours;

public class ColourScaleTests
{
    private const int Samples = 64;

    public static TheoryData<ColourVisionKind> Kinds => [.. Enum.GetValues<ColourVisionKind>()];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Lightness_falls_all_along_the_sequential_scale(ColourVisionKind kind)
    {
        double before = double.PositiveInfinity;
        for (int i = 0; i <= Samples; i++)
        {
            double lightness = Seen(ColourScale.Sequential, i, kind).Lightness;
            Assert.True(lightness < before - 0.004, $"{kind}: step {i} goes from {before:F3} to {lightness:F3}");
            before = lightness;
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Lightness_falls_from_the_middle_of_the_diverging_scale_to_both_ends(ColourVisionKind kind)
    {
        for (int i = Samples / 2; i < Samples; i++)
        {
            Assert.True(Seen(ColourScale.Diverging, i + 1, kind).Lightness < Seen(ColourScale.Diverging, i, kind).Lightness);
            Assert.True(
                Seen(ColourScale.Diverging, Samples - i - 1, kind).Lightness < Seen(ColourScale.Diverging, Samples - i, kind).Lightness);
        }
    }

    [Fact]
    public void Steps_look_even()
    {
        // A scale whose colours had to be cut to what a display shows would have uneven steps there, seen as false edges.
        foreach (ColourScale scale in (ColourScale[])[ColourScale.Sequential, ColourScale.Diverging])
        {
            double[] steps =
            [
                .. Enumerable.Range(0, Samples).Select(i =>
                    OkLab.From(scale.At(i / (double)Samples)).DistanceTo(OkLab.From(scale.At((i + 1.0) / Samples)))),
            ];
            Assert.True(steps.Max() < 1.7 * steps.Average(), $"{scale.Name}: {steps.Max():F4} against {steps.Average():F4}");
            Assert.True(steps.Min() > 0.5 * steps.Average(), $"{scale.Name}: {steps.Min():F4} against {steps.Average():F4}");
        }
    }

    [Theory]
    [MemberData(nameof(Kinds))]
    public void The_two_sides_of_the_diverging_scale_stay_apart(ColourVisionKind kind)
    {
        for (int i = Samples * 3 / 4; i <= Samples; i++)
        {
            double distance = Seen(ColourScale.Diverging, i, kind).DistanceTo(Seen(ColourScale.Diverging, Samples - i, kind));
            Assert.True(distance > 0.06, $"{kind}: {distance:F3} at {i}");
        }
    }

    [Fact]
    public void Both_sides_of_the_diverging_scale_are_equally_light()
    {
        for (int i = 0; i <= Samples; i++)
        {
            double here = OkLab.From(ColourScale.Diverging.At(i / (double)Samples)).Lightness;
            double there = OkLab.From(ColourScale.Diverging.At(1 - (i / (double)Samples))).Lightness;
            Assert.Equal(here, there, 0.006);
        }
    }

    [Fact]
    public void Values_beyond_the_ends_have_the_colour_of_the_end_and_no_number_has_none()
    {
        ColourScale scale = ColourScale.Sequential;
        Assert.Equal(scale.At(0), scale.At(-3));
        Assert.Equal(scale.At(1), scale.At(double.PositiveInfinity));
        Assert.Equal(scale.At(0.3), scale.Reversed().At(0.7));
        Assert.Throws<ArgumentOutOfRangeException>(() => scale.At(double.NaN));
    }

    [Fact]
    public void Classes_change_at_their_edges()
    {
        ColourMapping mapping = ColourMapping.Sequential(0, 3, "Time", "s") with { ClassEdges = [1, 1.9] };
        Assert.Equal(mapping.At(0), mapping.At(0.999));
        Assert.NotEqual(mapping.At(0.999), mapping.At(1));
        Assert.Equal(mapping.At(1), mapping.At(1.899));
        Assert.NotEqual(mapping.At(1.899), mapping.At(1.9));
        Assert.Equal(mapping.At(1.9), mapping.At(double.PositiveInfinity));
        ColourMapping difference = ColourMapping.Difference(2, "Change", "s");
        Assert.True(OkLab.From(difference.At(0)).Lightness > 0.95);
        Assert.Throws<ArgumentOutOfRangeException>(() => ColourMapping.Difference(0, "Change", "s"));
        Assert.Throws<ArgumentOutOfRangeException>(() => ColourMapping.Sequential(1, 1, "Time", "s"));
        Assert.Throws<ArgumentOutOfRangeException>(() => ColourMapping.Sequential(double.NaN, 1, "Time", "s"));
    }

    private static OkLab Seen(ColourScale scale, int sample, ColourVisionKind kind) =>
        OkLab.From(ColourVision.Simulate(scale.At(sample / (double)Samples), kind));
}
