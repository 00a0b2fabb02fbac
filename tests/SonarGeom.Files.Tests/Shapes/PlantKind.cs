using System.Collections.Immutable;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Shapes;

namespace SonarGeom.Files.Tests.Shapes;

/// <summary>A made-up kind of document with every shape in it, so that the reader is tested apart from what it is used for.</summary>
internal static class PlantKind
{
    internal enum Leaf
    {
        Needle,
        BroadLeaf,
    }

    internal static DocumentKind<Plant> Kind { get; } = new("plant", "plants", "A plant.", m =>
    {
        Member<string> name = m.Required("name", new TextShape(20), "Its name.");
        Member<double> height = m.Optional("height_m", new NumberShape(0, 100, aboveLeast: true), 1.5, "Its height. [m]");
        Member<double> tilt = m.Optional("tilt_deg", new NumberShape(-90, 90), 0, "Its tilt. [°]");
        Member<int> leaves = m.Optional("leaves", new WholeNumberShape(0, 1000), 3, "How many leaves.");
        Member<bool> evergreen = m.Optional("evergreen", new FlagShape(), false, "Whether it stays green.");
        Member<Leaf> leaf = m.Optional("leaf", ChoiceShape.OfEnum<Leaf>(), Leaf.BroadLeaf, "The leaf.");
        Member<ImmutableArray<double>> offset = m.Maybe("offset_m", new ListShape<double>(new NumberShape(-5, 5), 3, 3), "Where. [m]");
        Member<double> wet = m.Maybe("wet_mm", new NumberShape(0, 9), "Rain. [mm]");
        Member<double> dry = m.Maybe("dry_mm", new NumberShape(0, 9), "Drought. [mm]");
        Member<ImmutableArray<Plant>> neighbours = m.Maybe("neighbours", new ListShape<Plant>(new LazyPlant(), 0, 5), "Plants near by.");
        m.AtMostOne(wet, dry);
        return v =>
        {
            if (height.From(v) > 10 && leaf.From(v) == Leaf.Needle)
            {
                v.Fault(height, "height_m is too much for a needle leaf; it must be at most 10.");
            }

            if (name.From(v) == "nettle")
            {
                throw new ArgumentException("Nettles sting.", nameof(v));
            }

            return new Plant(name.From(v), height.From(v), tilt.From(v), leaves.From(v), evergreen.From(v), leaf.From(v), wet.OrNull(v), [.. neighbours.IsGivenIn(v) ? neighbours.From(v) : []]);
        };
    });

    internal static Plant Read(string text) => Kind.Read(DocumentLocation.OfFile("plant.json"), InputText.FromText("plant.json", text));

    internal static ImmutableArray<Fault> FaultsOf(string text) => Assert.Throws<InvalidInputException>(() => Read(text)).Faults;

    internal static Fault FaultOf(string text) => Assert.Single(FaultsOf(text));

    internal sealed record Plant(string Name, double Height, double Tilt, int Leaves, bool Evergreen, Leaf Leaf, double? Wet, ImmutableArray<Plant> Neighbours);

    private sealed class LazyPlant : Shape<Plant>
    {
        internal override string Allowed => Kind.Reference.Allowed;

        internal override bool TryRead(PlacedValue value, Reading reading, out Plant result) => Kind.Reference.TryRead(value, reading, out result);

        internal override System.Text.Json.Nodes.JsonObject Schema(SchemaDefinitions definitions) => Kind.Reference.Schema(definitions);
    }
}
