using System.Collections.Immutable;
using SonarGeom.Cli.Results;

namespace SonarGeom.Cli.Tests.Results;

public class FoldedWidthsTests
{
    private static readonly ImmutableArray<string> Headings = ["obstacle", "reported from [m]", "margin [dB]", "why not"];
    private static readonly ImmutableArray<bool> AreNumbers = [false, true, true, false];
    private static readonly ImmutableArray<ImmutableArray<string>> Rows =
    [
        ["lamp-column", "3.18", "-10.6", "–"], ["slipway-step", "–", "–", "specular: the echo leaves the receiver"],
    ];

    [Fact]
    public void WhatFitsKeepsItsOwnWidths() => Assert.Equal([12, 17, 11, 38], FoldedWidths.Of(Headings, AreNumbers, Rows, 84));

    [Fact]
    public void HeadingsFoldBeforeWordsAndNumbersNever()
    {
        // Two gaps of two between three columns more than the first: 6. Headings give way down to their longest words.
        Assert.Equal([12, 8, 6, 38], FoldedWidths.Of(Headings, AreNumbers, Rows, 70));
        int[] narrow = FoldedWidths.Of(Headings, AreNumbers, Rows, 10);
        Assert.Equal([12, 8, 6, 20], narrow);
        Assert.Equal(["reported", "from [m]"], FoldedWidths.Fold(Headings[1], narrow[1]).ToArray());
    }

    [Fact]
    public void FoldedTextHoldsEveryWordAndNoLineIsWiderThanAsked()
    {
        const string Text = "specular: the echo leaves the receiver";
        for (int width = 9; width <= Text.Length; width++)
        {
            ImmutableArray<string> lines = FoldedWidths.Fold(Text, width);
            Assert.Equal(Text, string.Join(' ', lines));
            Assert.All(lines, line => Assert.InRange(line.Length, 1, width));
        }

        Assert.Equal(["specular:", "the", "echo", "leaves", "the", "receiver"], FoldedWidths.Fold(Text, 1).ToArray());
    }
}
