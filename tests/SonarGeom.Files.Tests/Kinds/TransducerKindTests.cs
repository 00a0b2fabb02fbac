using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Kinds;
using SonarGeom.Transducers;

namespace SonarGeom.Files.Tests.Kinds;

public sealed class TransducerKindTests
{
    private const string Figures = """
        {
          "name": "Test 40", "nominal_frequency_khz": 40,
          "transmit": { "kind": "circular_piston", "radius_mm": 6 },
          "source_level_db_re20uPa_at_1m": 104,
          "threshold": [{ "time_ms": 0, "level_db_re20uPa": 62 }],
          "blanking_ms": 1, "listening_window_ms": 25,
          "evidence": { "range_target": "wall", "confidence": "none", "figure_of_merit_uncertainty_db": 3, "source": "test" }
        }
        """;

    private const string Claims = """
        {
          "name": "Claimed 40", "nominal_frequency_khz": 40, "blanking_ms": 1, "listening_window_ms": 30,
          "claims": [
            { "target": { "kind": "pole", "diameter_mm": 75, "length_m": 2 }, "range_m": 3.0 },
            { "target": { "kind": "pole", "diameter_mm": 75, "length_m": 2 }, "range_m": 2.0, "off_axis_deg": 15 }
          ]
        }
        """;

    public static TheoryData<string> Shipped => [.. CatalogueResources.Names("transducers", ".json")];

    [Theory]
    [MemberData(nameof(Shipped))]
    public void EveryShippedTransducerIsReadAndStatesItsTargetAndItsSureness(string name)
    {
        Transducer transducer = TransducerKind.Kind.Read(DocumentLocation.OfResource($"transducers/{name}.json")).Transducer;
        Assert.NotEmpty(transducer.Description);
        Assert.NotEmpty(transducer.Evidence.RangeTarget);
        Assert.NotEmpty(transducer.Evidence.Confidence);
        Assert.InRange(transducer.Evidence.FigureOfMeritUncertaintyDecibels, 0.5, 10);
    }

    [Fact]
    public void AtLeastFourAreShipped() => Assert.True(Shipped.Count >= 4);

    [Fact]
    public void FiguresAreReadInTheirUnits()
    {
        Transducer transducer = Read(Figures).Transducer;
        Assert.Equal(40_000, transducer.NominalFrequency.Hertz, 6);
        Assert.Equal(0.006, ((CircularPiston)transducer.Receive).RadiusMetres, 12);
        Assert.Equal(0.001, transducer.BlankingSeconds, 12);
        Assert.Equal(62, transducer.DetectionThresholdDecibels(0.01));
        Assert.Null(Read(Figures).Claims);
    }

    [Fact]
    public void ALevelAtThirtyCentimetresBecomesASourceLevel()
    {
        string text = Figures.Replace("source_level_db_re20uPa_at_1m\": 104", "spl_db_re20uPa_at_0p30m\": 114", StringComparison.Ordinal);

        // Spherical spreading from 0.30 m to 1 m is 20·log10(0.3) = −10.46 dB; 0.30 m of air at 40 kHz, 20 °C, 50 % gives back 0.4 dB.
        Assert.InRange(Read(text).Transducer.SourceLevelDecibels, 114 - 10.46 + 0.3, 114 - 10.46 + 0.5);
    }

    [Fact]
    public void ClaimsAreSolvedForBeamAndThreshold()
    {
        TransducerFile file = Read(Claims);
        Assert.NotNull(file.Claims);
        Assert.True(file.Claims.IsConsistent);
        Assert.Equal(file.Claims.EffectiveRadiusMetres!.Value, ((CircularPiston)file.Transducer.Transmit).RadiusMetres);
        Assert.Equal(file.Claims.FigureOfMeritDecibels, file.Transducer.LateFigureOfMeritDecibels, 6);
    }

    [Fact]
    public void ContradictingClaimsGiveTheirResidualsAndNoTransducer()
    {
        string text = Claims.Replace("\"range_m\": 2.0, \"off_axis_deg\": 15", "\"range_m\": 1.0", StringComparison.Ordinal);
        Fault fault = FaultOf(text);
        Assert.Equal("claims", fault.Field);
        Assert.StartsWith("claims contradict one another", fault.Message, StringComparison.Ordinal);
        Assert.Matches(@"at 3 m, on the boresight, air not stated: [+-]\d+\.\d dB; .*at 1 m", fault.Message);
    }

    [Theory]
    [InlineData("\"blanking_ms\": 1,", "\"blanking_ms\": 30,", "The listening window ends at 0.025 s; it must end after the blanking of 0.03 s.")]
    [InlineData("\"blanking_ms\": 1,", "\"blanking_ms\": 1, \"figure_of_merit_db\": 60,", "figure_of_merit_db is 60, but source level")]
    [InlineData("\"nominal_frequency_khz\": 40,", "\"nominal_frequency_khz\": 40000,", "nominal_frequency_khz is 40000; it must be from 15 to 500.")]
    [InlineData("circular_piston", "circular_pistons", "kind is \"circular_pistons\"; it must be one of circular_piston, rectangular_piston, gaussian_beam, cosine_power, polar_table; did you mean circular_piston?")]
    [InlineData("\"radius_mm\": 6", "\"radius_mm\": 0", "radius_mm is 0; it must be above 0 and at most 1000.")]
    [InlineData("\"radius_mm\": 6", "\"radius_m\": 6", "radius_m is not known in transmit; did you mean radius_mm?")]
    [InlineData("\"transmit\": { \"kind\": \"circular_piston\", \"radius_mm\": 6 },", "", "transmit is missing; it must be an object {…} that describes a beam")]
    [InlineData("\"threshold\": [{ \"time_ms\": 0, \"level_db_re20uPa\": 62 }],", "", "the document has none of threshold and claims; exactly one of them must be given.")]
    [InlineData("[{ \"time_ms\": 0, \"level_db_re20uPa\": 62 }]", "[{ \"time_ms\": 2, \"level_db_re20uPa\": 62 }, { \"time_ms\": 1, \"level_db_re20uPa\": 60 }]", "Threshold times must rise")]
    public void EachWrongFigureIsOneSentence(string from, string to, string message)
    {
        Assert.Contains(from, Figures, StringComparison.Ordinal);
        Assert.Contains(message, Assert.Throws<InvalidInputException>(() => Read(Figures.Replace(from, to, StringComparison.Ordinal))).Message, StringComparison.Ordinal);
    }

    [Fact]
    public void APolarTableIsReadFromAFileBesideTheTransducer()
    {
        using ScratchFolder folder = new();
        folder.Write("polar/beam.csv", "off_axis_deg,amplitude,plane\n0,1,horizontal\n30,0.5,horizontal\n60,0.1,horizontal\n0,1,vertical\n15,0.5,vertical\n40,0.1,vertical\n");
        string path = folder.Write("t.json", Figures.Replace("\"circular_piston\", \"radius_mm\": 6", "\"polar_table\", \"file\": \"polar/beam.csv\"", StringComparison.Ordinal));
        PolarTable beam = Assert.IsType<PolarTable>(TransducerKind.Kind.Read(DocumentLocation.OfFile(path)).Transducer.Transmit);
        Assert.Equal(0.5, beam.AmplitudeAt(Quantities.Angle.FromDegrees(30), 733), 9);
        Assert.Equal(0.5, beam.AmplitudeAt(Quantities.Angle.FromDegrees(15), 733, verticalPlane: true), 9);
    }

    [Fact]
    public void APolarTableOfFallingAnglesIsAFaultOfItsFile()
    {
        using ScratchFolder folder = new();
        string table = folder.Write("beam.csv", "off_axis_deg,level_db\n0,0\n30,-6\n20,-9\n");
        string path = folder.Write("t.json", Figures.Replace("\"circular_piston\", \"radius_mm\": 6", "\"polar_table\", \"file\": \"beam.csv\"", StringComparison.Ordinal));
        Fault fault = Assert.Single(Assert.Throws<InvalidInputException>(() => TransducerKind.Kind.Read(DocumentLocation.OfFile(path))).Faults);
        Assert.Equal(new Fault(table, null, null, null, "The horizontal plane cannot be used: Polar angles must rise; point 3 is at 20° after 30°."), fault);
    }

    private static TransducerFile Read(string text) => TransducerKind.Kind.Read(DocumentLocation.OfFile("t.json"), InputText.FromText("t.json", text));

    private static Fault FaultOf(string text) => Assert.Single(Assert.Throws<InvalidInputException>(() => Read(text)).Faults);
}
