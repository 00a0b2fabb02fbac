using System.Text;

namespace SonarGeom.Files.Tests;

/// <summary>A folder of its own for one test, gone afterwards.</summary>
public sealed class ScratchFolder : IDisposable
{
    public ScratchFolder() => Root = Directory.CreateTempSubdirectory("sonargeom-").FullName;

    public string Root { get; }

    public string Write(string name, string text) => Write(name, Encoding.UTF8.GetBytes(text));

    public string Write(string name, byte[] bytes)
    {
        string path = Path.Combine(Root, name);
        Directory.CreateDirectory(Path.GetDirectoryName(path)!);
        File.WriteAllBytes(path, bytes);
        return path;
    }

    public string At(string name) => Path.Combine(Root, name);

    public void Dispose() => Directory.Delete(Root, true);
}
