using System.CommandLine;
using SonarGeom.Bodies;
using SonarGeom.Cli.Results;
using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Files;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Faults;

namespace SonarGeom.Cli.Commands;

/// <summary>Prints a wearer's body: landmarks, mounting sites, height bands.</summary>
internal sealed class BodyCommand : ToolCommand
{
    private const string UsualWearer = "typical-man";

    private readonly Argument<string?> _wearer = new("WEARER")
    {
        Arity = ArgumentArity.ZeroOrOne,
        Description = $"A wearer: the path of a file, or one of {string.Join(", ", ShippedCatalogue.Wearers)}. Without it {UsualWearer}.",
    };

    private readonly BodyOptions _body;
    private readonly AnswerOptions _answer;

    internal BodyCommand()
        : base(
            "body",
            "Prints the body of a wearer: landmarks with their standard errors, mounting sites with their outward normals, and the height bands. "
            + "Positions are in metres: X ahead, Y left, Z up from the ground, in shoes.",
            "body short-woman")
    {
        Add(_wearer);
        _body = new BodyOptions(this);
        _answer = new AnswerOptions(this, "the landmarks");
    }

    internal override ExitCode Run(ParseResult line, Session session)
    {
        string name = line.GetValue(_wearer) ?? UsualWearer;
        WearerSpec spec = InputFiles.ReadWearer(name, _body.Tables(line));
        Body body;
        try
        {
            body = Body.Build(spec, _body.Tables(line));
        }
        catch (ArgumentException refusal)
        {
            throw new InvalidInputException(name, Inputs.Sentence(refusal));
        }

        if (_answer.IsCsv(line))
        {
            BodyResults.Landmarks.WriteCsv(session.Output, BodyResults.LandmarkRows(body));
        }
        else if (_answer.IsJson(line))
        {
            JsonResult.Write(session.Output, "body", null, json =>
            {
                BodyResults.Summary.WriteMembers(json, body);
                BodyResults.Bands.WriteArray(json, "height_bands", BodyResults.BandRows(body));
                BodyResults.Landmarks.WriteArray(json, "landmarks", BodyResults.LandmarkRows(body));
                BodyResults.Sites.WriteArray(json, "sites", BodyResults.SiteRows(body));
                json.WriteSentences("notes", body.Notes);
            });
        }
        else
        {
            WriteText(session.Output, body);
        }

        return ExitCode.Done;
    }

    private static void WriteText(TextWriter output, Body body)
    {
        output.WriteLine(Wrapping.Fold($"{body.Spec.Name}: stature {body.Dimensions.StatureMetres:0.000} m, mass {body.Dimensions.MassKilograms:0.0} kg, "
            + $"crown {body.CrownHeightMetres:0.000} m above the ground in shoes and posture. {body.Spec.Description}", 100, 0));
        output.WriteLine();
        output.WriteLine("Height bands in the posture worn");
        BodyResults.Bands.WriteText(output, BodyResults.BandRows(body));
        output.WriteLine();
        output.WriteLine("Landmarks in the neutral pose");
        BodyResults.Landmarks.WriteText(output, BodyResults.LandmarkRows(body));
        output.WriteLine();
        output.WriteLine("Mounting sites in the neutral pose; the normal points out of the body");
        BodyResults.Sites.WriteText(output, BodyResults.SiteRows(body));
        output.WriteLine();
        output.WriteLine("Notes");
        foreach (string note in body.Notes)
        {
            output.WriteLine($"- {Wrapping.Fold(note, 100, 2)}");
        }
    }
}
