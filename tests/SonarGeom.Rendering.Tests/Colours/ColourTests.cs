using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Tests.Colours;

public class ColourTests
{
    [Fact]
    public void Hexadecimal_colours_are_read_and_written()
    {
        Assert.Equal(new Colour(0x12, 0xab, 0xff), Colour.FromHex("#12abff"));
        Assert.Equal("#12abff", Colour.FromHex("12ABFF").ToString());
        Assert.Equal("#1a1a1a", Colour.Ink.ToString());
        foreach (string wrong in (string[])["", "12345", "1234567", "gg0000", "12 456", "+12345"])
        {
            Assert.Throws<FormatException>(() => Colour.FromHex(wrong));
        }
    }

    [Fact]
    public void Contrast_runs_from_1_to_21()
    {
        Assert.Equal(21, Colour.White.ContrastRatio(new(0, 0, 0)), 9);
        Assert.Equal(1, Colour.Ink.ContrastRatio(Colour.Ink), 12);
        Assert.True(Colour.White.ContrastRatio(Colour.Ink) > 15);

        // Text in grey must reach 4.5, the level AA of the Web Content Accessibility Guidelines 2.2, 1.4.3.
        Assert.True(Colour.White.ContrastRatio(Colour.Grey) >= 4.5);
    }

    [Fact]
    public void The_perceptual_space_has_its_published_values()
    {
        // Ottosson 2020: white is (1, 0, 0); sRGB red is (0.628, 0.225, 0.126), as his conversion prints it.
        OkLab white = OkLab.From(Colour.White);
        Assert.Equal(1, white.Lightness, 4);
        Assert.Equal(0, white.A, 4);
        Assert.Equal(0, white.B, 4);
        OkLab red = OkLab.From(new Colour(255, 0, 0));
        Assert.Equal(0.628, red.Lightness, 3);
        Assert.Equal(0.225, red.A, 3);
        Assert.Equal(0.126, red.B, 3);
    }

    [Fact]
    public void Going_to_the_perceptual_space_and_back_changes_nothing()
    {
        for (int seed = 0; seed < 300; seed++)
        {
            var random = new Random(seed);
            var colour = new Colour((byte)random.Next(256), (byte)random.Next(256), (byte)random.Next(256));
            Assert.Equal(colour, OkLab.From(colour).ToColour());
        }
    }

    [Fact]
    public void A_colour_that_no_display_shows_keeps_its_lightness_and_hue()
    {
        OkLab wanted = OkLab.FromPolar(0.6, 0.35, 200);
        OkLab got = OkLab.From(wanted.ToColour());
        Assert.Equal(0.6, got.Lightness, 2);
        Assert.InRange((Math.Atan2(got.B, got.A) * 180 / Math.PI) + 360, 197, 203);
    }

    [Theory]
    [InlineData(ColourVisionKind.Protanopia)]
    [InlineData(ColourVisionKind.Deuteranopia)]
    [InlineData(ColourVisionKind.Tritanopia)]
    public void Grey_looks_grey_to_everybody(ColourVisionKind kind)
    {
        // The rows of the published matrices sum to 1 within 2e-6.
        for (int level = 0; level < 256; level += 15)
        {
            var grey = new Colour((byte)level, (byte)level, (byte)level);
            Assert.Equal(grey, ColourVision.Simulate(grey, kind));
        }
    }

    [Fact]
    public void The_palette_stays_apart_for_everybody_and_shows_on_white()
    {
        foreach (ColourVisionKind kind in Enum.GetValues<ColourVisionKind>())
        {
            for (int i = 0; i < CategoricalPalette.Colours.Length; i++)
            {
                for (int k = 0; k < i; k++)
                {
                    double distance = OkLab.From(ColourVision.Simulate(CategoricalPalette.At(i), kind))
                        .DistanceTo(OkLab.From(ColourVision.Simulate(CategoricalPalette.At(k), kind)));

                    // Seven times the difference that is just noticeable side by side.
                    Assert.True(distance > 0.14, $"{kind}: colours {k} and {i} are {distance:F3} apart");
                }
            }
        }

        Assert.All(CategoricalPalette.Colours, c => Assert.True(c.ContrastRatio(Colour.White) >= 2.9, c.ToString()));
        Assert.Equal(CategoricalPalette.At(1), CategoricalPalette.At(8));
        Assert.Throws<ArgumentOutOfRangeException>(() => CategoricalPalette.At(-1));
    }
}
