using System.CommandLine;
using System.Security.Cryptography;
using System.Text;
using SonarGeom.Bodies;
using SonarGeom.Files;
using SonarGeom.Files.Bodies;

namespace SonarGeom.Cli.Commands;

/// <summary>The tables from which wearers are built, as an option.</summary>
internal sealed class BodyOptions
{
    private readonly Option<string?> _tables = new("--body-tables")
    {
        Description = "A folder of body tables to use in place of the shipped ones, as the starter folder has under bodies/.",
        HelpName = "FOLDER",
    };

    internal BodyOptions(Command command) => command.Add(_tables);

    /// <summary>Returns the tables.</summary>
    internal BodyTables Tables(ParseResult line) =>
        line.GetValue(_tables) is { } folder ? BodyTableFiles.ReadFolder(folder) : BodyTableFiles.Shipped;

    /// <summary>Reads a scenario; the hash then counts the tables too.</summary>
    internal LoadedScenario Scenario(ParseResult line, string nameOrPath)
    {
        LoadedScenario loaded = InputFiles.ReadScenario(nameOrPath, Tables(line));
        if (line.GetValue(_tables) is not { } folder)
        {
            return loaded;
        }

        using IncrementalHash hash = IncrementalHash.CreateHash(HashAlgorithmName.SHA256);
        hash.AppendData(Encoding.ASCII.GetBytes(loaded.Sha256));
        foreach (string name in BodyTableFiles.FileNames)
        {
            hash.AppendData(SHA256.HashData(File.ReadAllBytes(Path.Combine(folder, name))));
        }

        return loaded with { Sha256 = Convert.ToHexStringLower(hash.GetHashAndReset()) };
    }
}
