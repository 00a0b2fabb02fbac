using System.Net;
using System.Text;
using SonarGeom.Cli.Results;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Cli.Reports;

/// <summary>A column of a table on a page.</summary>
/// <param name="Heading">Heading with the unit.</param>
/// <param name="Value">The value of a row.</param>
internal sealed record PageColumn<T>(string Heading, Func<T, Cell> Value);

/// <summary>
/// One self-contained page: headings in order, landmarks, tables that can be read aloud and scrolled by keyboard, pictures with
/// their finding in words. All text is escaped here and nowhere else.
/// </summary>
internal sealed class Page
{
    private readonly StringBuilder _body = new();
    private readonly List<(string Id, string Title)> _sections = [];
    private readonly HashSet<string> _ids = [];
    private readonly string _title;
    private readonly string _footer;
    private string _lead = string.Empty;
    private bool _isOpen;

    /// <summary>Starts a page.</summary>
    /// <param name="title">Its title.</param>
    /// <param name="footer">What stands at its end: tool, version, hash of the inputs.</param>
    internal Page(string title, string footer)
    {
        _title = title;
        _footer = footer;
    }

    /// <summary>Sets what stands under the title.</summary>
    internal void Lead(string about) => _lead = $"<p class=\"about\">{Escape(about)}</p>\n";

    /// <summary>Starts a section; it is listed in the contents.</summary>
    internal void Section(string title)
    {
        Close();
        string id = Id(title);
        _sections.Add((id, title));
        _body.Append($"<section aria-labelledby=\"{id}\">\n<h2 id=\"{id}\">{Escape(title)}</h2>\n");
        _isOpen = true;
    }

    /// <summary>Starts a part of a section.</summary>
    internal void Part(string title) => _body.Append($"<h3 id=\"{Id(title)}\">{Escape(title)}</h3>\n");

    /// <summary>Adds a paragraph.</summary>
    internal void Text(string text) => _body.Append($"<p>{Escape(text)}</p>\n");

    /// <summary>Adds a paragraph that stands out, with a word that says what it is.</summary>
    internal void Callout(string label, string text, bool isBad) =>
        _body.Append($"<p class=\"{(isBad ? "call bad" : "call good")}\"><strong>{Escape(label)}:</strong> {Escape(text)}</p>\n");

    /// <summary>Adds a list.</summary>
    internal void List(IEnumerable<string> items)
    {
        _body.Append("<ul>\n");
        foreach (string item in items)
        {
            _body.Append($"<li>{Escape(item)}</li>\n");
        }

        _body.Append("</ul>\n");
    }

    /// <summary>Adds terms with their meaning.</summary>
    internal void Terms(IEnumerable<(string Term, string Meaning)> terms)
    {
        _body.Append("<dl>\n");
        foreach ((string term, string meaning) in terms)
        {
            _body.Append($"<dt>{Escape(term)}</dt><dd>{Escape(meaning)}</dd>\n");
        }

        _body.Append("</dl>\n");
    }

    /// <summary>Adds a table; the first column names each row.</summary>
    /// <param name="caption">What it tells; no two tables of a page share one.</param>
    /// <param name="rows">The rows.</param>
    /// <param name="columns">The columns.</param>
    internal void Table<T>(string caption, IReadOnlyCollection<T> rows, params PageColumn<T>[] columns)
    {
        string id = Id("table " + caption);
        bool[] isNumber = [.. columns.Select(c => rows.Any(r => c.Value(r).IsNumber))];
        string[] classes = [.. columns.Select((c, i) => isNumber[i] ? " class=\"n\"" : WidthClass(rows.Select(r => c.Value(r).ToText().Length).DefaultIfEmpty(0).Max()))];
        _body.Append($"<div class=\"scroll\" role=\"region\" tabindex=\"0\" aria-labelledby=\"{id}\">\n<table>\n<caption id=\"{id}\">{Escape(caption)}</caption>\n<thead><tr>");
        for (int i = 0; i < columns.Length; i++)
        {
            _body.Append($"<th scope=\"col\"{classes[i]}>{Escape(columns[i].Heading)}</th>");
        }

        _body.Append("</tr></thead>\n<tbody>\n");
        foreach (T row in rows)
        {
            _body.Append("<tr>");
            for (int i = 0; i < columns.Length; i++)
            {
                Cell cell = columns[i].Value(row);
                string text = Escape(cell.IsNumber ? Signed(cell.ToText()) : cell.ToText());
                _body.Append(i == 0 ? $"<th scope=\"row\"{classes[i]}>{text}</th>" : $"<td{classes[i]}>{text}</td>");
            }

            _body.Append("</tr>\n");
        }

        _body.Append("</tbody>\n</table>\n</div>\n");

        // Long texts get room: a column of one word a line cannot be read.
        static string WidthClass(int longest) => longest > 60 ? " class=\"w3\"" : longest > 30 ? " class=\"w2\"" : longest > 12 ? " class=\"w1\"" : string.Empty;

        // A true minus sign is read aloud as minus, a hyphen is not.
        static string Signed(string number) => number.StartsWith('-') ? "\u2212" + number[1..] : number;
    }

    /// <summary>Adds a picture with its finding in words. It is put in as SVG: sharp at any size and smaller than its PNG.</summary>
    /// <param name="drawn">The picture.</param>
    /// <param name="gridFile">File that holds its numbers; null when the table beside it has them all.</param>
    internal void Picture(DrawnPicture drawn, string? gridFile = null)
    {
        Figure figure = drawn.Picture.Figure;
        string alt = $"Picture: {figure.Title}. Its finding stands below it, its numbers in the table beside it.";
        _body.Append($"<figure>\n<img alt=\"{Escape(alt)}\" width=\"{Dimension(drawn.Png, 16)}\" height=\"{Dimension(drawn.Png, 20)}\" src=\"data:image/svg+xml;base64,")
            .Append(Convert.ToBase64String(drawn.Svg)).Append("\">\n<figcaption><strong>")
            .Append(Escape(figure.Finding)).Append("</strong> ").Append(Escape(string.Join(' ', figure.Footnotes.Where(f => f != FigureWords.Caution))))
            .Append($" Files beside this page: <a href=\"{drawn.Picture.Stem}.svg\">{drawn.Picture.Stem}.svg</a>");
        if (gridFile is not null)
        {
            _body.Append($", the numbers in <a href=\"{gridFile}\">{gridFile}</a>");
        }

        _body.Append(".</figcaption>\n</figure>\n");
    }

    /// <summary>Adds lines to sign on.</summary>
    internal void Signatures(IEnumerable<string> roles)
    {
        _body.Append("<div class=\"sign\">\n");
        foreach (string role in roles)
        {
            _body.Append($"<p>{Escape(role)}: name, signature, date</p>\n");
        }

        _body.Append("</div>\n");
    }

    /// <summary>Returns the whole page in UTF-8.</summary>
    internal byte[] Finish()
    {
        Close();
        var page = new StringBuilder();
        page.Append("<!DOCTYPE html>\n<html lang=\"en-GB\">\n<head>\n<meta charset=\"utf-8\">\n<meta name=\"viewport\" content=\"width=device-width, initial-scale=1\">\n")
            .Append($"<title>{Escape(_title)}</title>\n<link rel=\"icon\" href=\"data:,\">\n<style>\n{PageStyle.Sheet}</style>\n</head>\n<body>\n")
            .Append("<a class=\"skip\" href=\"#main\">Skip to the findings</a>\n")
            .Append($"<header>\n<h1>{Escape(_title)}</h1>\n{_lead}</header>\n<nav aria-label=\"Contents\">\n<ul>\n");
        foreach ((string id, string title) in _sections)
        {
            page.Append($"<li><a href=\"#{id}\">{Escape(title)}</a></li>\n");
        }

        page.Append("</ul>\n</nav>\n<main id=\"main\" tabindex=\"-1\">\n").Append(_body).Append($"</main>\n<footer>\n<p>{Escape(_footer)}</p>\n</footer>\n</body>\n</html>\n");
        return Encoding.UTF8.GetBytes(page.ToString());
    }

    /// <summary>Returns text with the signs of the markup replaced.</summary>
    internal static string Escape(string text) => WebUtility.HtmlEncode(text);

    private void Close()
    {
        if (_isOpen)
        {
            _body.Append("</section>\n");
            _isOpen = false;
        }
    }

    // The size of a PNG picture stands in its first chunk, highest byte first.
    private static int Dimension(byte[] png, int at) => (png[at] << 24) | (png[at + 1] << 16) | (png[at + 2] << 8) | png[at + 3];

    private string Id(string title)
    {
        string name = FileNames.Of(title), id = name;
        for (int i = 2; !_ids.Add(id); i++)
        {
            id = $"{name}-{i}";
        }

        return id;
    }
}
