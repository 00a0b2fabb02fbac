using System.Text;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Output;

/// <summary>
/// Writes the files of one run so that either all of them appear or none: they are written beside the folder and moved into it at
/// the end. Without <see cref="Commit"/> nothing stays behind.
/// </summary>
/// <remarks>Use from one thread at a time to open files; the streams may be written in parallel.</remarks>
public sealed class OutputFolder : IDisposable
{
    private static readonly UTF8Encoding Plain = new(encoderShouldEmitUTF8Identifier: false);

    private readonly string _stage;
    private readonly string? _firstMade;
    private readonly List<string> _names = [];
    private bool _done;

    private OutputFolder(string path, string stage, string? firstMade)
    {
        FolderPath = path;
        _stage = stage;
        _firstMade = firstMade;
    }

    /// <summary>Gets the path of the folder as the user named it.</summary>
    public string FolderPath { get; }

    /// <summary>Gets the names of the files opened so far, in order, with forward slashes.</summary>
    public IReadOnlyList<string> Names => _names;

    /// <summary>Begins to write into a folder, which need not exist.</summary>
    /// <param name="path">Path of the folder.</param>
    /// <exception cref="InvalidInputException">The path is blank, or a file, or may not be written.</exception>
    public static OutputFolder Open(string path)
    {
        if (string.IsNullOrWhiteSpace(path) || path.Contains('\0', StringComparison.Ordinal))
        {
            throw new InvalidInputException(path ?? string.Empty, "The output folder has a blank name or a zero character in it; give the path of a folder.");
        }

        if (File.Exists(path))
        {
            throw new InvalidInputException(path, "The output folder is a file; give the path of a folder.");
        }

        return Guarded(path, () =>
        {
            string full = Path.TrimEndingDirectorySeparator(Path.GetFullPath(path));

            // The stage is on the same volume, so that moving is renaming: within the folder if it exists, else beside it.
            string? firstMade = null;
            string holder = full;
            if (!Directory.Exists(full))
            {
                holder = Path.GetDirectoryName(full) ?? full;
                firstMade = FirstMissing(holder);
                Directory.CreateDirectory(holder);
            }

            string stage = Path.Combine(holder, $".sonargeom-{Path.GetRandomFileName()}");
            Directory.CreateDirectory(stage);
            return new OutputFolder(path, stage, firstMade);
        });
    }

    /// <summary>Opens a file of the run for writing.</summary>
    /// <param name="name">Name within the folder, such as <c>maps/head.png</c>.</param>
    /// <returns>The stream; close it before <see cref="Commit"/>.</returns>
    /// <exception cref="ArgumentException">The name is blank, rooted, leads out of the folder, or was opened before.</exception>
    public Stream Create(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        ObjectDisposedException.ThrowIf(_done, this);
        string[] parts = name.Split('/');
        if (parts.Any(p => string.IsNullOrWhiteSpace(p) || p is "." or ".." || p.Any(c => char.IsControl(c) || c is '\\' or ':')))
        {
            throw new ArgumentException($"The output name '{name}' must be a path of plain names within the folder.", nameof(name));
        }

        if (_names.Contains(name, StringComparer.OrdinalIgnoreCase))
        {
            throw new ArgumentException($"The output {name} is written twice.", nameof(name));
        }

        _names.Add(name);
        return Guarded(FolderPath, () =>
        {
            string path = Path.Combine([_stage, .. parts]);
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            return new FileStream(path, FileMode.CreateNew, FileAccess.Write, FileShare.None, 1 << 16);
        });
    }

    /// <summary>Writes a file of text: UTF-8 without mark.</summary>
    /// <param name="name">Name within the folder.</param>
    /// <param name="text">The text.</param>
    public void WriteText(string name, string text) => WriteBytes(name, Plain.GetBytes(text));

    /// <summary>Writes a file of bytes.</summary>
    /// <param name="name">Name within the folder.</param>
    /// <param name="bytes">The bytes.</param>
    public void WriteBytes(string name, ReadOnlySpan<byte> bytes)
    {
        using Stream stream = Create(name);
        try
        {
            stream.Write(bytes);
        }
        catch (IOException e)
        {
            throw Refused(FolderPath, e);
        }
    }

    /// <summary>Returns which of the files opened so far would replace one that exists.</summary>
    public IReadOnlyList<string> WouldReplace() =>
        [.. _names.Where(n => Path.Exists(Path.Combine([FolderPath, .. n.Split('/')])))];

    /// <summary>Moves all files into the folder. Files of the same names are replaced, others stay.</summary>
    /// <exception cref="InvalidInputException">The folder may not be written.</exception>
    public void Commit()
    {
        ObjectDisposedException.ThrowIf(_done, this);
        Guarded(FolderPath, () =>
        {
            string full = Path.GetFullPath(FolderPath);
            if (Directory.Exists(full))
            {
                foreach (string name in _names)
                {
                    string target = Path.Combine([full, .. name.Split('/')]);
                    Directory.CreateDirectory(Path.GetDirectoryName(target)!);
                    File.Move(Path.Combine([_stage, .. name.Split('/')]), target, overwrite: true);
                }

                Directory.Delete(_stage, recursive: true);
            }
            else
            {
                Directory.Move(_stage, full);
            }

            _done = true;
            return true;
        });
    }

    /// <summary>Takes away what was not committed.</summary>
    public void Dispose()
    {
        if (_done)
        {
            return;
        }

        _done = true;
        try
        {
            Directory.Delete(_stage, recursive: true);

            // Folders that were made only to hold the output are empty now.
            for (string? made = Path.GetDirectoryName(_stage);
                _firstMade is not null && made is not null && made.Length >= _firstMade.Length && !Directory.EnumerateFileSystemEntries(made).Any();
                made = Path.GetDirectoryName(made))
            {
                Directory.Delete(made);
            }
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // What cannot be taken away is hidden by its name and harms nothing; the first failure is what counts.
        }
    }

    private static string? FirstMissing(string folder)
    {
        string? missing = null;
        for (string? at = folder; at is not null && !Directory.Exists(at); at = Path.GetDirectoryName(at))
        {
            missing = at;
        }

        return missing;
    }

    private static T Guarded<T>(string path, Func<T> work)
    {
        try
        {
            return work();
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException or System.Security.SecurityException)
        {
            throw Refused(path, e);
        }
    }

    private static InvalidInputException Refused(string path, Exception e) =>
        new(path, $"The output folder cannot be written: {e.Message.TrimEnd('.')}.");
}
