namespace SonarGeom.Files.Shapes;

/// <summary>What the cells of a table's column may hold.</summary>
/// <typeparam name="T">What a cell stands for.</typeparam>
internal interface ICellShape<T>
{
    /// <summary>Gets what is allowed, to follow "it must be".</summary>
    string AllowedInCell { get; }

    /// <summary>Reads the text of a cell, which is not empty and has no blanks around it.</summary>
    bool TryParse(string text, out T result);
}
