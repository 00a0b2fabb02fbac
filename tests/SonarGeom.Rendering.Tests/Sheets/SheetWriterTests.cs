using SonarGeom.Rendering.Drawing;
using SonarGeom.Rendering.Sheets;

namespace SonarGeom.Rendering.Tests.Sheets;

public class SheetWriterTests
{
    [Fact]
    public void The_same_sheet_gives_the_same_bytes_without_a_date()
    {
        byte[] pdf = SheetWriter.Pdf(ExampleSheets.Review());
        Assert.Equal(pdf, SheetWriter.Pdf(ExampleSheets.Review()));
        string text = System.Text.Encoding.Latin1.GetString(pdf);
        Assert.StartsWith("%PDF-", text, StringComparison.Ordinal);
        Assert.DoesNotContain("CreationDate", text, StringComparison.Ordinal);
    }

    [Fact]
    public void Every_word_is_on_a_page_and_none_overlaps_another()
    {
        SheetDocument sheet = ExampleSheets.Review();
        var layout = new SheetLayout(sheet);
        var words = new List<string>();
        for (int page = 0; page < layout.PageCount; page++)
        {
            var surface = new SvgSurface(SheetLayout.PageWidth, SheetLayout.PageHeight, "page", string.Empty);
            layout.Paint(page, surface);
            var paper = new Box(0, 0, SheetLayout.PageWidth, SheetLayout.PageHeight);
            for (int i = 0; i < surface.Texts.Count; i++)
            {
                Box box = surface.Texts[i].Box;
                Assert.True(paper.Contains(box), $"\"{surface.Texts[i].Text}\" leaves page {page + 1}");
                words.AddRange(surface.Texts[i].Text.Split(' '));
                for (int k = 0; k < i; k++)
                {
                    Assert.False(
                        box.Grown(-0.8).Overlaps(surface.Texts[k].Box.Grown(-0.8)),
                        $"page {page + 1}: \"{surface.Texts[i].Text}\" lies over \"{surface.Texts[k].Text}\"");
                }
            }

            Assert.Contains(surface.Texts, t => t.Text == $"page {page + 1} of {layout.PageCount}");
        }

        var table = (SheetTable)sheet.Blocks[2];
        HashSet<string> known = [.. words];
        foreach (string word in table.Rows.SelectMany(r => r).SelectMany(c => c.Split(' ')))
        {
            Assert.Contains(word, known);
        }

        // The table runs over several pages and has its head on each.
        Assert.True(words.Count(w => w == "Hazard") >= 3);
        Assert.Contains("signature", words);
    }

    [Fact]
    public void A_row_with_too_few_cells_is_refused() =>
        Assert.Throws<ArgumentException>(() => SheetWriter.Pdf(new(
            "Sheet", [new SheetTable("Table", [new("A"), new("B")], [["only one"]])])));
}
