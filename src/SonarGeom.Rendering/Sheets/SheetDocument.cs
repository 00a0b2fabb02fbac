using System.Collections.Immutable;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Sheets;

/// <summary>A part of a sheet.</summary>
public abstract record SheetBlock
{
    private protected SheetBlock()
    {
    }
}

/// <summary>A heading; it stays with what follows.</summary>
/// <param name="Text">The heading.</param>
public sealed record SheetHeading(string Text) : SheetBlock;

/// <summary>A paragraph.</summary>
/// <param name="Text">The text.</param>
/// <param name="IsStrong">Whether it is set in bold.</param>
public sealed record SheetParagraph(string Text, bool IsStrong = false) : SheetBlock;

/// <summary>A list with a mark before each item.</summary>
/// <param name="Items">The items.</param>
public sealed record SheetList(ImmutableArray<string> Items) : SheetBlock;

/// <summary>A column of a table.</summary>
/// <param name="Heading">Its heading, with the unit of its numbers.</param>
/// <param name="IsNumber">Whether its cells are set flush right.</param>
public sealed record SheetColumn(string Heading, bool IsNumber = false);

/// <summary>A table; its head is repeated on every page it runs over.</summary>
/// <param name="Caption">What the table tells.</param>
/// <param name="Columns">The columns.</param>
/// <param name="Rows">The rows, one text per column.</param>
public sealed record SheetTable(
    string Caption, ImmutableArray<SheetColumn> Columns, ImmutableArray<ImmutableArray<string>> Rows) : SheetBlock;

/// <summary>A figure across the page.</summary>
/// <param name="Figure">The figure.</param>
public sealed record SheetFigure(Figure Figure) : SheetBlock;

/// <summary>Lines to sign on: for each role a name, a signature and a date.</summary>
/// <param name="Statement">What is signed.</param>
/// <param name="Roles">Who signs, such as "Orientation-and-mobility specialist".</param>
public sealed record SheetSignatures(string Statement, ImmutableArray<string> Roles) : SheetBlock;

/// <summary>Starts a new page.</summary>
public sealed record SheetPageBreak : SheetBlock;

/// <summary>A document of one or more A4 pages to print, read and sign. <see cref="SheetWriter"/> turns it into PDF.</summary>
/// <param name="Title">The title, on the first page.</param>
/// <param name="Blocks">The parts in order.</param>
public sealed record SheetDocument(string Title, ImmutableArray<SheetBlock> Blocks)
{
    /// <summary>Gets a line under the title; empty for none.</summary>
    public string Subtitle { get; init; } = string.Empty;

    /// <summary>Gets a line at the foot of every page, beside the page number.</summary>
    public string Footer { get; init; } = string.Empty;
}
