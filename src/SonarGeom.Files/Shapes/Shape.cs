using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;

namespace SonarGeom.Files.Shapes;

/// <summary>What a JSON value may look like, and what it stands for. One description serves both the reader and the published schema.</summary>
/// <typeparam name="T">What the value stands for.</typeparam>
internal abstract class Shape<T>
{
    /// <summary>Gets what is allowed, to follow "it must be": "a number from 0 to 5".</summary>
    internal abstract string Allowed { get; }

    /// <summary>Reads a value; when it does not fit, the reason is added to the faults of the reading and false is returned.</summary>
    internal abstract bool TryRead(PlacedValue value, Reading reading, out T result);

    /// <summary>Returns the JSON Schema of the shape. Named objects go into the definitions and are referred to.</summary>
    internal abstract JsonObject Schema(SchemaDefinitions definitions);
}
