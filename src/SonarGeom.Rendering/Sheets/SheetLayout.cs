using System.Collections.Immutable;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Drawing;

namespace SonarGeom.Rendering.Sheets;

/// <summary>Breaks a sheet into pages. Lengths are in points.</summary>
internal sealed class SheetLayout
{
    /// <summary>ISO 216 A4: 210 mm × 297 mm.</summary>
    public const double PageWidth = 595.28;

    public const double PageHeight = 841.89;

    private const double Margin = 50;
    private const double FooterRoom = 28;

    private static readonly TextStyle TitleStyle = new(true, 18);
    private static readonly TextStyle HeadingStyle = new(true, 12.5);
    private static readonly TextStyle BodyStyle = new(false, 10);
    private static readonly TextStyle StrongStyle = new(true, 10);
    private static readonly TextStyle SmallStyle = new(false, 8.5);

    private readonly List<List<Action<DrawingSurface>>> _pages = [[]];
    private readonly SheetDocument _sheet;
    private double _y = Margin;

    public SheetLayout(SheetDocument sheet)
    {
        _sheet = sheet;
        AddText(sheet.Title, TitleStyle);
        AddText(sheet.Subtitle, BodyStyle);
        _y += 6;
        foreach (SheetBlock block in sheet.Blocks)
        {
            Add(block);
        }
    }

    public int PageCount => _pages.Count;

    private static double TextWidth => PageWidth - (2 * Margin);

    private static double Bottom => PageHeight - Margin - FooterRoom;

    public void Paint(int page, DrawingSurface surface)
    {
        foreach (Action<DrawingSurface> mark in _pages[page])
        {
            mark(surface);
        }

        double y = PageHeight - Margin;
        surface.Draw(Outline.Line(Margin, y - 14, PageWidth - Margin, y - 14), new(Colour.Grey, 0.5));
        string number = $"page {page + 1} of {PageCount}";
        double room = TextWidth - SmallStyle.Measure(number) - 20;
        TextBlock footer = TextBlock.Wrap(_sheet.Footer, SmallStyle, room);
        if (footer.Lines.Count > 0)
        {
            surface.Text(footer.Lines[0], Margin, y, SmallStyle, Colour.Grey);
        }

        surface.Text(number, PageWidth - Margin, y, SmallStyle, Colour.Grey, TextAnchor.End);
    }

    private void Add(SheetBlock block)
    {
        switch (block)
        {
            case SheetHeading heading:
                _y += 10;
                Need(HeadingStyle.LineHeight + 60);
                AddText(heading.Text, HeadingStyle);
                _y += 2;
                break;
            case SheetParagraph paragraph:
                AddText(paragraph.Text, paragraph.IsStrong ? StrongStyle : BodyStyle);
                _y += 5;
                break;
            case SheetList list:
                AddList(list.Items);
                break;
            case SheetTable table:
                AddTable(table);
                break;
            case SheetFigure figure:
                AddFigure(figure.Figure.Arrange());
                break;
            case SheetSignatures signatures:
                AddSignatures(signatures);
                break;
            default:
                NewPage();
                break;
        }
    }

    private void NewPage()
    {
        _pages.Add([]);
        _y = Margin;
    }

    private void Need(double height)
    {
        if (_y + height > Bottom && _y > Margin)
        {
            NewPage();
        }
    }

    private void Mark(Action<DrawingSurface> mark) => _pages[^1].Add(mark);

    private void AddText(string text, TextStyle style, double left = Margin, double? width = null)
    {
        // Line by line, so that a long paragraph runs over to the next page.
        foreach (string line in TextBlock.Wrap(text, style, width ?? TextWidth).Lines)
        {
            Need(style.LineHeight);
            double baseline = _y + (0.5 * (style.LineHeight - style.Size)) + style.Ascent;
            Mark(surface => surface.Text(line, left, baseline, style, Colour.Ink));
            _y += style.LineHeight;
        }
    }

    private void AddList(ImmutableArray<string> items)
    {
        foreach (string item in items)
        {
            Need(BodyStyle.LineHeight);
            double baseline = _y + (0.5 * (BodyStyle.LineHeight - BodyStyle.Size)) + BodyStyle.Ascent;
            Mark(surface => surface.Text("•", Margin + 4, baseline, BodyStyle, Colour.Ink));
            AddText(item, BodyStyle, Margin + 16, TextWidth - 16);
            _y += 2;
        }

        _y += 4;
    }

    private void AddTable(SheetTable table)
    {
        foreach (ImmutableArray<string> row in table.Rows)
        {
            if (row.Length != table.Columns.Length)
            {
                throw new ArgumentException(
                    $"A row of table \"{table.Caption}\" has {row.Length} cells for {table.Columns.Length} columns.");
            }
        }

        Need(BodyStyle.LineHeight * 4);
        AddText(table.Caption, StrongStyle);
        _y += 2;
        double[] widths = ColumnWidths(table);
        double[] lefts = new double[widths.Length];
        for (int c = 0; c < widths.Length; c++)
        {
            lefts[c] = c == 0 ? Margin : lefts[c - 1] + widths[c - 1];
        }

        ImmutableArray<string> head = [.. table.Columns.Select(c => c.Heading)];
        AddRow(table, head, widths, lefts, true);
        int page = _pages.Count;
        foreach (ImmutableArray<string> row in table.Rows)
        {
            Need(RowHeight(row, widths, BodyStyle));
            if (_pages.Count != page)
            {
                AddRow(table, head, widths, lefts, true);
                page = _pages.Count;
            }

            AddRow(table, row, widths, lefts, false);
        }

        _y += 10;
    }

    private static double RowHeight(ImmutableArray<string> row, double[] widths, TextStyle style)
    {
        double height = style.LineHeight;
        for (int c = 0; c < row.Length; c++)
        {
            height = Math.Max(height, TextBlock.Wrap(row[c], style, widths[c] - 10).Height);
        }

        return height + 5;
    }

    private void AddRow(SheetTable table, ImmutableArray<string> row, double[] widths, double[] lefts, bool isHead)
    {
        TextStyle style = isHead ? StrongStyle : BodyStyle;
        double top = _y;
        double height = RowHeight(row, widths, style);
        for (int c = 0; c < row.Length; c++)
        {
            TextBlock text = TextBlock.Wrap(row[c], style, widths[c] - 10);
            bool isNumber = table.Columns[c].IsNumber;
            double x = isNumber ? lefts[c] + widths[c] - 5 : lefts[c] + 5;
            Mark(surface => text.Paint(surface, x, top + 2, Colour.Ink, isNumber ? TextAnchor.End : TextAnchor.Start));
        }

        double bottom = top + height;
        double right = lefts[^1] + widths[^1];
        Mark(surface => surface.Draw(
            Outline.Line(Margin, bottom, right, bottom), new(isHead ? Colour.Ink : Colour.GridGrey, isHead ? 1 : 0.5)));
        _y = bottom;
    }

    /// <summary>Every column gets what its longest cell needs; if that is too much, each gets the room of its longest word
    /// and a share of the rest by what it still lacks.</summary>
    private static double[] ColumnWidths(SheetTable table)
    {
        const double padding = 11;
        int n = table.Columns.Length;
        double[] wanted = new double[n];
        double[] least = new double[n];
        for (int c = 0; c < n; c++)
        {
            wanted[c] = StrongStyle.Measure(table.Columns[c].Heading) + padding;
            least[c] = LongestWord(table.Columns[c].Heading, StrongStyle) + padding;
            foreach (ImmutableArray<string> row in table.Rows)
            {
                wanted[c] = Math.Max(wanted[c], BodyStyle.Measure(row[c]) + padding);
                least[c] = Math.Max(least[c], LongestWord(row[c], BodyStyle) + padding);
            }
        }

        if (wanted.Sum() <= TextWidth)
        {
            return wanted;
        }

        double rest = TextWidth - least.Sum();
        if (rest < 0)
        {
            return [.. least.Select(w => w * TextWidth / least.Sum())];
        }

        double lack = wanted.Sum() - least.Sum();
        return [.. wanted.Zip(least, (w, l) => l + (rest * (w - l) / lack))];
    }

    private static double LongestWord(string text, TextStyle style) =>
        text.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(style.Measure).DefaultIfEmpty(0).Max();

    private void AddFigure(FigurePainter painter)
    {
        double scale = Math.Min(TextWidth / painter.Width, (Bottom - Margin) / painter.Height);
        double height = painter.Height * scale;
        Need(height);
        double left = Margin + (0.5 * (TextWidth - (painter.Width * scale)));
        double top = _y;
        Mark(surface =>
        {
            surface.BeginPlacement(left, top, scale);
            painter.Paint(surface);
            surface.EndPlacement();
        });
        _y += height + 8;
    }

    private void AddSignatures(SheetSignatures signatures)
    {
        const double rowHeight = 52;
        Need((3 * BodyStyle.LineHeight) + (signatures.Roles.Length * rowHeight));
        AddText(signatures.Statement, BodyStyle);
        foreach (string role in signatures.Roles)
        {
            Need(rowHeight);
            double line = _y + 34;
            (string Name, double Left, double Right)[] fields =
            [
                (role + ", name", Margin, Margin + (0.40 * TextWidth)),
                ("signature", Margin + (0.43 * TextWidth), Margin + (0.76 * TextWidth)),
                ("date", Margin + (0.79 * TextWidth), Margin + TextWidth),
            ];
            foreach ((string name, double left, double right) in fields)
            {
                string label = TextBlock.Wrap(name, SmallStyle, right - left).Lines[0];
                Mark(surface =>
                {
                    surface.Draw(Outline.Line(left, line, right, line), new(Colour.Ink, 0.8));
                    surface.Text(label, left, line + 11, SmallStyle, Colour.Ink);
                });
            }

            _y += rowHeight;
        }
    }
}
