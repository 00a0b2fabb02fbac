using SonarGeom.Coverage;
using SonarGeom.Files.Shapes;
using SonarGeom.Quantities;

namespace SonarGeom.Files.Kinds;

/// <summary>How probes are written.</summary>
internal static class ProbeKind
{
    private static readonly NumberShape Size = new(0, 5, aboveLeast: true);

    /// <summary>Gets the kind.</summary>
    internal static DocumentKind<Probe> Kind { get; } = new(
        "probe",
        "probes",
        "A small target of stated shape and attitude that is put on each cell of a map in turn.",
        Describe);

    private static Func<MemberValues, Probe> Describe(MemberSet m)
    {
        Member<string> name = m.Required("name", new TextShape(40), "A short name, used in tables and in the names of files.");
        Member<string> description = m.Optional("description", new TextShape(500, mayBeEmpty: true), string.Empty, "What it stands for, in words.");
        Member<ProbeShape> shape = m.Required(
            "shape", ChoiceShape.OfEnum<ProbeShape>(), "rod: round and upright; branch: round, level and across the path; sphere; board: flat, facing the wearer. The attitude turns it from there.");
        Member<double> diameter = m.Maybe("diameter_m", Size, "The diameter of a rod, branch or sphere. [m]");
        Member<double> length = m.Maybe("length_m", Size, "The length of a rod or branch. [m]");
        Member<double> width = m.Maybe("width_m", Size, "The width of a board. [m]");
        Member<double> height = m.Maybe("height_m", Size, "The height of a board. [m]");
        Member<double> yaw = m.Optional("yaw_deg", new NumberShape(-180, 180), 0, "The turn about the vertical, positive left. [°]");
        Member<double> pitch = m.Optional("pitch_deg", new NumberShape(-180, 180), 0, "The tilt of the front upwards. [°]");
        Member<double> loss = m.Optional("reflection_loss_db", new NumberShape(0, 100), 0, "The loss of the surface against a rigid one. [dB]");
        return v =>
        {
            ProbeShape kind = shape.From(v);
            Member<double>[] needed = kind switch
            {
                ProbeShape.Sphere => [diameter],
                ProbeShape.Board => [width, height],
                _ => [diameter, length],
            };
            foreach (Member<double> size in new[] { diameter, length, width, height })
            {
                string word = ChoiceShape.OfEnum<ProbeShape>().WordOf(kind);
                if (size.IsGivenIn(v) != needed.Contains(size))
                {
                    string wrong = size.IsGivenIn(v) ? $"{size.Name} is given, but a {word} has none" : $"{size.Name} is missing";
                    v.Fault(size, $"{wrong}; a {word} must have {string.Join(" and ", needed.Select(n => n.Name))}.");
                }
            }

            return new Probe(
                name.From(v),
                description.From(v),
                kind,
                diameter.From(v),
                kind is ProbeShape.Board ? width.From(v) : length.From(v),
                height.From(v),
                Angle.FromDegrees(yaw.From(v)),
                Angle.FromDegrees(pitch.From(v)),
                loss.From(v));
        };
    }
}
