using SonarGeom.Rendering.Sheets;
using SonarGeom.Rendering.Tests.Figures;

namespace SonarGeom.Rendering.Tests.Sheets;

/// <summary>A made-up reviewer's sheet.</summary>
internal static class ExampleSheets
{
    public static SheetDocument Review() => new(
        "Head-height review: layout A",
        [
            new SheetParagraph("38 % of the head band is not warned in time for a 30 mm branch.", IsStrong: true),
            new SheetHeading("Worst first"),
            new SheetTable(
                "Hazards in the head band",
                [
                    new("Hazard"), new("Wearer"), new("First reported (m)", true), new("Warning (s)", true), new("Needed (s)", true),
                    new("Why, and the smallest change that mends it"),
                ],
                [
                    .. Enumerable.Range(1, 42).Select(i => System.Collections.Immutable.ImmutableArray.Create(
                        $"branch {i}, 30 mm", i % 2 == 0 ? "tallest" : "shortest, head bowed", $"{1 + (0.03 * i):F2}", $"{0.5 + (0.04 * i):F1}", "1.9",
                        i % 3 == 0 ? "out of beam: tilt the brow sensor 8° up; loses nothing elsewhere" : "too weak: a part with 6 dB more")),
                ]),
            new SheetHeading("Assumptions"),
            new SheetList(
            [
                "Air at 20 °C, 50 % relative humidity.",
                "Walking speed 1.2 m/s, reaction 1.0 s, stopping at 1.0 m/s²; a hazard counts as reported when at least 90 % of the stride phases report it at that range and at every nearer range.",
            ]),
            new SheetFigure(Examples.ApproachMap()),
            new SheetSignatures(
                "I have read the assumptions above. A design aid, no proof of safety.",
                ["Reviewer", "Orientation-and-mobility specialist"]),
        ])
    {
        Subtitle = "Layout A on a tall adult, harbour promenade",
        Footer = "Head-height review, layout A, inputs 3f2a91c0",
    };
}
