using System.Collections.Immutable;
using System.Text.Json.Nodes;
using SonarGeom.Files.Documents;
using SonarGeom.Geometry;

namespace SonarGeom.Files.Shapes;

/// <summary>Three numbers ahead, left and up in metres.</summary>
/// <param name="least">The least allowed for each. [m]</param>
/// <param name="most">The most allowed for each. [m]</param>
internal sealed class Vec3Shape(double least, double most) : Shape<Vec3>
{
    private readonly ListShape<double> _numbers = new(new NumberShape(least, most), 3, 3);

    /// <inheritdoc/>
    internal override string Allowed => $"a list of three numbers, ahead, left and up, each from {NumberShape.Digits(least)} to {NumberShape.Digits(most)}";

    /// <inheritdoc/>
    internal override bool TryRead(PlacedValue value, Reading reading, out Vec3 result)
    {
        bool good = _numbers.TryRead(value, reading, out ImmutableArray<double> numbers);
        result = good ? new Vec3(numbers[0], numbers[1], numbers[2]) : default;
        return good;
    }

    /// <inheritdoc/>
    internal override JsonObject Schema(SchemaDefinitions definitions) => _numbers.Schema(definitions);
}
