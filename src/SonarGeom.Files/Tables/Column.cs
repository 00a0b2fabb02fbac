using SonarGeom.Files.Shapes;

namespace SonarGeom.Files.Tables;

/// <summary>A column of a table.</summary>
/// <param name="name">The name in the header, with the unit.</param>
/// <param name="isRequired">Whether the table must have the column.</param>
internal abstract class Column(string name, bool isRequired)
{
    /// <summary>Gets the name in the header.</summary>
    internal string Name { get; } = name;

    /// <summary>Gets whether the table must have the column.</summary>
    internal bool IsRequired { get; } = isRequired;
}

/// <summary>A column of a table whose cells are of a known shape.</summary>
/// <typeparam name="T">What a cell stands for.</typeparam>
internal sealed class Column<T>(string name, ICellShape<T> shape, bool isRequired = false) : Column(name, isRequired)
{
    /// <summary>Gets the shape of the cells.</summary>
    internal ICellShape<T> Shape { get; } = shape;
}
