using System.Text;
using System.Text.Json;
using SonarGeom.Files.Faults;
using SonarGeom.Trials;

namespace SonarGeom.Cli.Results;

/// <summary>Keeps each finished outing at once, so that trials that are stopped, or killed, go on where they were.</summary>
/// <remarks>One line for what the trials are, then one for each outing. A last line that was cut off is left out.</remarks>
internal sealed class TrialsInWork : IDisposable
{
    private static readonly UTF8Encoding Plain = new(encoderShouldEmitUTF8Identifier: false);

    private readonly FileStream _stream;

    private TrialsInWork(string path, FileStream stream, IReadOnlyList<OutingTally> done)
    {
        Path = path;
        _stream = stream;
        Done = done;
        DoneCount = done.Count;
    }

    /// <summary>Gets the path of the file.</summary>
    internal string Path { get; }

    /// <summary>Gets the outings that were finished before.</summary>
    internal IReadOnlyList<OutingTally> Done { get; }

    /// <summary>Opens the file; what belongs to other trials is overwritten.</summary>
    /// <param name="path">Its path.</param>
    /// <param name="key">What the trials are, on one line.</param>
    internal static TrialsInWork Open(string path, string key)
    {
        try
        {
            if (System.IO.Path.GetDirectoryName(System.IO.Path.GetFullPath(path)) is { } folder)
            {
                Directory.CreateDirectory(folder);
            }

            var stream = new FileStream(path, FileMode.OpenOrCreate, FileAccess.ReadWrite, FileShare.Read);
            (List<OutingTally> done, long end) = Read(stream, key);
            stream.SetLength(end);
            stream.Position = end;
            var work = new TrialsInWork(path, stream, done);
            if (end == 0)
            {
                work.Write(key);
            }

            return work;
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            throw new InvalidInputException(path, $"The file that keeps finished outings cannot be written: {e.Message.ReplaceLineEndings(" ").TrimEnd('.')}.");
        }
    }

    /// <summary>Gets how many outings are kept.</summary>
    internal int DoneCount { get; private set; }

    /// <summary>Keeps an outing.</summary>
    internal void Keep(OutingTally tally)
    {
        Write(JsonSerializer.Serialize(tally));
        DoneCount++;
    }

    /// <summary>Takes the file away: the result is written.</summary>
    internal void Remove()
    {
        _stream.Dispose();
        File.Delete(Path);
    }

    /// <inheritdoc/>
    public void Dispose() => _stream.Dispose();

    private static (List<OutingTally> Done, long End) Read(FileStream stream, string key)
    {
        var bytes = new byte[stream.Length];
        stream.ReadExactly(bytes);
        var done = new List<OutingTally>();
        int from = 0, good = 0;
        for (int end = Array.IndexOf(bytes, (byte)'\n'); end >= 0; end = from < bytes.Length ? Array.IndexOf(bytes, (byte)'\n', from) : -1)
        {
            string line = Plain.GetString(bytes, from, end - from);
            if (from == 0 && line != key)
            {
                return ([], 0);
            }

            if (from > 0)
            {
                if (Parsed(line) is not { } tally)
                {
                    break;
                }

                done.Add(tally);
            }

            from = end + 1;
            good = from;
        }

        return (done, good);
    }

    private static OutingTally? Parsed(string line)
    {
        try
        {
            return JsonSerializer.Deserialize<OutingTally>(line);
        }
        catch (JsonException)
        {
            return null;
        }
    }

    private void Write(string line)
    {
        _stream.Write(Plain.GetBytes(line + "\n"));
        _stream.Flush(flushToDisk: false);
    }
}
