using System.Collections.Immutable;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Shapes;
using SonarGeom.Files.Tables;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Files.Kinds;

/// <summary>How beams are written.</summary>
internal static class DirectivityShapes
{
    private static readonly NumberShape SizeMillimetres = new(0, 1000, aboveLeast: true);
    private static readonly NumberShape HalfAngleDegrees = new(0.1, 89.9);
    private static readonly NumberShape LevelDecibels = new(-60, -0.01);

    private static readonly ObjectShape<PolarPoint> Point = new("polar_point", "One point of a polar response.", m =>
    {
        Member<double> offAxis = m.Required("off_axis_deg", new NumberShape(-180, 180), "The angle off the boresight; points follow one another in rising angle. [°]");
        Member<double> level = m.Required("level_db", new NumberShape(PolarCut.LowestDecibels, 3), "The level there relative to the boresight, one way. [dB]");
        return v => new PolarPoint(Angle.FromDegrees(offAxis.From(v)), level.From(v));
    });

    private static readonly ListShape<PolarPoint> Points = new(Point, 3, 10_000);

    /// <summary>Gets the shape of a beam.</summary>
    internal static VariantShape<Directivity> Beam { get; } = new(
        "a beam",
        [
            VariantShape<Directivity>.Variant("beam", "circular_piston", "A flat round piston in a baffle: the beam of most single transducers.", m =>
            {
                Member<double> radius = m.Required("radius_mm", SizeMillimetres, "The effective radius of the face. [mm]");
                return v => new CircularPiston(radius.From(v) / 1000);
            }),
            VariantShape<Directivity>.Variant("beam", "rectangular_piston", "A flat rectangular piston in a baffle.", m =>
            {
                Member<double> width = m.Required("width_mm", SizeMillimetres, "The full width, left to right in the sensor frame. [mm]");
                Member<double> height = m.Required("height_mm", SizeMillimetres, "The full height in the sensor frame. [mm]");
                return v => new RectangularPiston(width.From(v) / 1000, height.From(v) / 1000);
            }),
            VariantShape<Directivity>.Variant("beam", "gaussian_beam", "A beam without side lobes that falls as a Gaussian; a fit through one point.", m =>
            {
                Member<double> half = m.Required("half_angle_deg", HalfAngleDegrees, "The angle off the boresight at which the level is stated. [°]");
                Member<double> level = m.Required("level_db", LevelDecibels, "The level there, one way. [dB]");
                return v => new GaussianBeam(Angle.FromDegrees(half.From(v)), level.From(v));
            }),
            VariantShape<Directivity>.Variant("beam", "cosine_power", "A beam without side lobes, the cosine of the angle to a power.", m =>
            {
                Member<double> exponent = m.Maybe("exponent", new NumberShape(0, 2000), "The power. [unitless]");
                Member<double> half = m.Maybe("half_angle_deg", HalfAngleDegrees, "In place of the power: the angle off the boresight at which the level is stated. [°]");
                Member<double> level = m.Maybe("level_db", LevelDecibels, "The level at half_angle_deg, one way. [dB]");
                m.ExactlyOne(exponent, half);
                return v =>
                {
                    if (half.IsGivenIn(v) != level.IsGivenIn(v))
                    {
                        v.Fault("half_angle_deg and level_db belong together; give both or neither.");
                        return new CosinePowerBeam(0);
                    }

                    return exponent.IsGivenIn(v)
                        ? new CosinePowerBeam(exponent.From(v))
                        : CosinePowerBeam.FromHalfAngle(Angle.FromDegrees(half.From(v)), level.From(v));
                };
            }),
            VariantShape<Directivity>.Variant("beam", "polar_table", "A measured polar response, in one plane or in two.", Polar),
        ]);

    private static Func<MemberValues, Directivity> Polar(MemberSet m)
    {
        Member<PolarTable> file = m.Maybe("file", new PolarFileShape(), "A table (CSV) with the columns off_axis_deg, level_db or amplitude, and plane if there are two.");
        Member<ImmutableArray<PolarPoint>> table = m.Maybe("table", Points, "The response in any plane through the boresight.");
        Member<ImmutableArray<PolarPoint>> horizontal = m.Maybe("horizontal", Points, "The response in the horizontal plane of the sensor frame.");
        Member<ImmutableArray<PolarPoint>> vertical = m.Maybe("vertical", Points, "The response in the vertical plane of the sensor frame; given together with horizontal.");
        m.ExactlyOne(file, table, horizontal);
        return v =>
        {
            if (horizontal.IsGivenIn(v) != vertical.IsGivenIn(v))
            {
                v.Fault(vertical, "horizontal and vertical belong together; give both, or table for a beam that is the same in every plane.");
            }

            if (file.IsGivenIn(v))
            {
                return file.From(v);
            }

            return table.IsGivenIn(v)
                ? new PolarTable(PolarCut.FromPoints(table.From(v)))
                : new PolarTable(
                    PolarCut.FromPoints(horizontal.From(v)),
                    PolarCut.FromPoints(vertical.IsGivenIn(v) ? vertical.From(v) : horizontal.From(v)));
        };
    }

    private sealed class PolarFileShape : Shape<PolarTable>
    {
        private static readonly TableKind Kind = new("polar table", "polar_tables");

        internal override string Allowed => "the path of a table (CSV)";

        internal override bool TryRead(PlacedValue value, Reading reading, out PolarTable result)
        {
            PolarTable? table = reading.Store.ReadReferenced(value, Kind, reading) is { } text ? PolarTableReader.Read(text, reading.Faults) : null;
            result = table!;
            return table is not null;
        }

        internal override System.Text.Json.Nodes.JsonObject Schema(SchemaDefinitions definitions) =>
            new() { ["type"] = "string", ["minLength"] = 1 };
    }
}
