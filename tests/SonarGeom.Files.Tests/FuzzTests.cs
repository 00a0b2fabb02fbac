using System.Text;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Kinds;
using SonarGeom.Files.Tables;

namespace SonarGeom.Files.Tests;

/// <summary>Damaged files: whatever is done to a valid file, it is read or refused with sentences, and nothing else happens.</summary>
public sealed class FuzzTests
{
    private static readonly string[] Pieces =
    [
        "{", "}", "[", "]", ",", ":", "\"", "null", "true", "-1", "1e999", "1e-320", "NaN", "-Infinity", "0", "99999999999999999999", "\"\"",
        "\"x\"", "//", "/*", "\\u0000", "\\ud800", "\n", "\t", "ü", "\0", "\uFEFF", "\"based_on\": \"harbour-promenade.json\",", "\"name\": 1,",
        "\"../scenarios/harbour-promenade.json\"", "\"typical-man\"", ".", "..", "/", "e", "-",
    ];

    private static readonly string[] CsvPieces = [",", "\"", "\n", "\r", ";", "NaN", "1,5", "-1", "1e999", "0", "", "pole", "stairs", "id", "x_m", "\0", "ü", "\t", "999"];

    [Fact]
    public void DamagedDocumentsAreReadOrRefusedWithSentencesAndTheSchemaAllowsAllThatIsRead()
    {
        string[] files = [.. CatalogueResources.All.Where(n => n.EndsWith(".json", StringComparison.Ordinal) && !n.StartsWith("bodies/", StringComparison.Ordinal))];
        int read = 0;
        for (int seed = 0; seed < 2000; seed++)
        {
            string file = files[seed % files.Length];
            byte[] bytes = Damaged(CatalogueResources.Find(file)!, Pieces, seed);
            string kind = file.Split('/')[0].TrimEnd('s');
            if (Outcome(seed, () => Read(kind, InputText.FromBytes("damaged.json", bytes), DocumentLocation.OfResource(file) with { Name = "damaged.json" })))
            {
                read++;
                Assert.True(SchemaTests.Fits(kind, Encoding.UTF8.GetString(bytes)), $"seed {seed}: {Encoding.UTF8.GetString(bytes)}");
            }
        }

        // Most damage must be found, and some changes (a comment, a digit) leave a file valid.
        Assert.InRange(read, 20, 1500);
    }

    [Fact]
    public void DamagedTablesAreReadOrRefusedWithSentences()
    {
        string[] files = [.. CatalogueResources.All.Where(n => n.StartsWith("obstacles/", StringComparison.Ordinal))];
        int read = 0;
        for (int seed = 0; seed < 2000; seed++)
        {
            byte[] bytes = Damaged(CatalogueResources.Find(files[seed % files.Length])!, CsvPieces, seed);
            read += Outcome(seed, () =>
            {
                FaultList faults = new();
                ObstacleTable.Read(InputText.FromBytes("damaged.csv", bytes), new DocumentStore(), faults);
                faults.ThrowIfAny();
            })
                ? 1
                : 0;
        }

        Assert.InRange(read, 20, 1900);
    }

    /// <summary>Returns whether a document is read, as one that lies beside the shipped ones of its kind.</summary>
    internal static bool IsRead(string kind, string text) =>
        Outcome(-1, () => Read(kind, InputText.FromText("given.json", text), DocumentLocation.OfResource($"{kind}s/given.json")));

    private static void Read(string kind, InputText text, DocumentLocation location)
    {
        switch (kind)
        {
            case "scenario":
                ScenarioKind.Kind.Read(location, text);
                break;
            case "layout":
                LayoutKind.Kind.Read(location, text);
                break;
            case "transducer":
                TransducerKind.Kind.Read(location, text);
                break;
            case "wearer":
                WearerKind.Kind.Read(location, text);
                break;
            case "probe":
                ProbeKind.Kind.Read(location, text);
                break;
            default:
                throw new ArgumentOutOfRangeException(nameof(kind), kind);
        }
    }

    private static bool Outcome(int seed, Action read)
    {
        try
        {
            read();
            return true;
        }
        catch (InvalidInputException e)
        {
            foreach (Fault fault in e.Faults)
            {
                Assert.Matches(@"^[^\r\n]*[.?]$", fault.Message);
                Assert.DoesNotContain("Exception", fault.Message, StringComparison.Ordinal);
                Assert.DoesNotContain("Parameter '", fault.Message, StringComparison.Ordinal);
                Assert.NotEmpty(fault.File);
            }

            return false;
        }
        catch (Exception e) when (e is not Xunit.Sdk.XunitException)
        {
            throw new Xunit.Sdk.XunitException($"Seed {seed}: {e}");
        }
    }

    private static byte[] Damaged(byte[] original, string[] pieces, int seed)
    {
        Random random = new(seed);
        List<byte> bytes = [.. original];
        int changes = 1 + random.Next(3);
        for (int i = 0; i < changes && bytes.Count > 2; i++)
        {
            int at = random.Next(bytes.Count);
            switch (random.Next(7))
            {
                case 0:
                    bytes[at] = (byte)random.Next(256);
                    break;
                case 1:
                    bytes.RemoveRange(at, Math.Min(random.Next(1, 30), bytes.Count - at));
                    break;
                case 2:
                    bytes.RemoveRange(at, bytes.Count - at);
                    break;
                case 3:
                    bytes.InsertRange(at, Encoding.UTF8.GetBytes(pieces[random.Next(pieces.Length)]));
                    break;
                case 4:
                    int from = random.Next(bytes.Count);
                    bytes.InsertRange(at, bytes.GetRange(from, Math.Min(random.Next(1, 80), bytes.Count - from)).ToArray());
                    break;
                case 5:
                    ReplaceNumber(bytes, at, pieces[random.Next(pieces.Length)]);
                    break;
                default:
                    ReplaceNumber(bytes, at, (random.NextDouble() * Math.Pow(10, random.Next(-3, 4)) * (random.Next(4) == 0 ? -1 : 1)).ToString("G4", System.Globalization.CultureInfo.InvariantCulture));
                    break;
            }
        }

        return [.. bytes];
    }

    // Replaces the next number after a place.
    private static void ReplaceNumber(List<byte> bytes, int at, string with)
    {
        int start = at;
        while (start < bytes.Count && !char.IsAsciiDigit((char)bytes[start]))
        {
            start++;
        }

        int end = start;
        while (end < bytes.Count && (char.IsAsciiDigit((char)bytes[end]) || bytes[end] == '.'))
        {
            end++;
        }

        bytes.RemoveRange(start, end - start);
        bytes.InsertRange(start, Encoding.UTF8.GetBytes(with));
    }
}
