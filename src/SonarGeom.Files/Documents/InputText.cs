using System.Text;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Documents;

/// <summary>The text of one input file: not empty, not too large, valid UTF-8; with lines and columns of its bytes.</summary>
internal sealed class InputText
{
    /// <summary>The largest file that is read. [bytes]</summary>
    internal const int LargestBytes = 50_000_000;

    private readonly byte[] _bytes;
    private readonly int _start;
    private int[]? _lineStarts;

    private InputText(string name, byte[] bytes, int start)
    {
        Name = name;
        _bytes = bytes;
        _start = start;
    }

    /// <summary>Gets the name by which faults call the file.</summary>
    internal string Name { get; }

    /// <summary>Gets where the text was read from; null for text that no document refers from.</summary>
    internal DocumentLocation? Location { get; set; }

    /// <summary>Gets the text without its byte order mark.</summary>
    internal ReadOnlyMemory<byte> Utf8 => _bytes.AsMemory(_start);

    /// <summary>Reads a file from disk.</summary>
    /// <param name="path">Where the file is.</param>
    /// <param name="name">How faults call it.</param>
    /// <exception cref="InvalidInputException">The file is missing, a folder, unreadable, empty, larger than 50 MB or not UTF-8.</exception>
    internal static InputText FromFile(string path, string name) => FromFile(path, name, stream => FromStream(name, stream));

    /// <summary>Reads a file that need not be text.</summary>
    /// <param name="path">Where the file is.</param>
    /// <param name="name">How faults call it.</param>
    /// <param name="largestBytes">The largest file that is read. [bytes]</param>
    /// <exception cref="InvalidInputException">The file is missing, a folder, unreadable, empty or too large.</exception>
    internal static InputText BinaryFromFile(string path, string name, int largestBytes) =>
        FromFile(path, name, stream => FromBinary(name, AllBytes(name, stream, largestBytes)));

    /// <summary>Takes bytes already in memory, text or not, which it keeps.</summary>
    internal static InputText FromBinary(string name, byte[] bytes) => bytes.Length > 0
        ? new InputText(name, bytes, 0)
        : throw new InvalidInputException(name, "The file is empty; it must have content.");

    private static InputText FromFile(string path, string name, Func<Stream, InputText> read)
    {
        if (string.IsNullOrWhiteSpace(path) || path.Contains('\0', StringComparison.Ordinal))
        {
            throw new InvalidInputException(name, "The name of the file is blank or holds a zero character; give the path of a file.");
        }

        if (Directory.Exists(path))
        {
            throw new InvalidInputException(name, "This is a folder; give the path of a file in it.");
        }

        try
        {
            using FileStream stream = File.OpenRead(path);
            return read(stream);
        }
        catch (Exception e) when (e is FileNotFoundException or DirectoryNotFoundException)
        {
            throw new InvalidInputException(name, "There is no such file; check the spelling of its path.");
        }
        catch (Exception e) when (e is UnauthorizedAccessException or System.Security.SecurityException)
        {
            throw new InvalidInputException(name, "The file may not be read by this user; change its permissions.");
        }
        catch (Exception e) when (e is IOException or NotSupportedException or ArgumentException)
        {
            throw new InvalidInputException(name, $"The file cannot be read: {e.Message.TrimEnd('.')}.");
        }
    }

    /// <summary>Reads a stream to its end, at most 50 MB of it.</summary>
    internal static InputText FromStream(string name, Stream stream) => FromBytes(name, AllBytes(name, stream, LargestBytes));

    /// <summary>Takes text already in memory.</summary>
    internal static InputText FromText(string name, string text) => FromBytes(name, Encoding.UTF8.GetBytes(text));

    /// <summary>Takes bytes already in memory, which it keeps.</summary>
    internal static InputText FromBytes(string name, byte[] bytes)
    {
        if (bytes.Length > LargestBytes)
        {
            throw new InvalidInputException(name, $"The file is larger than {LargestBytes / 1_000_000} MB; no larger file is read.");
        }

        if (bytes is [0xFF, 0xFE, ..] or [0xFE, 0xFF, ..] or [0, 0, 0xFE, 0xFF, ..])
        {
            throw new InvalidInputException(name, "The file is written in UTF-16 or UTF-32; save it as UTF-8.");
        }

        // A byte order mark of UTF-8, as spreadsheets write it, says nothing new and is passed over.
        InputText text = new(name, bytes, bytes is [0xEF, 0xBB, 0xBF, ..] ? 3 : 0);
        ReadOnlySpan<byte> body = text.Utf8.Span;
        if (body.TrimStart(" \t\r\n"u8).IsEmpty)
        {
            throw new InvalidInputException(name, "The file is empty; it must have content.");
        }

        if (!System.Text.Unicode.Utf8.IsValid(body))
        {
            int at = FirstInvalid(body);
            (int line, int column) = text.PlaceOf(at);
            throw new InvalidInputException(new Fault(name, line, column, null, $"The byte 0x{body[at]:X2} is not UTF-8 text here; save the file as UTF-8."));
        }

        int zero = body.IndexOf((byte)0);
        if (zero >= 0)
        {
            (int line, int column) = text.PlaceOf(zero);
            throw new InvalidInputException(new Fault(name, line, column, null, "A zero byte stands here, so this is not a text file; give a text file in UTF-8."));
        }

        return text;
    }

    /// <summary>Returns line and column, both from 1, of a byte of <see cref="Utf8"/>; columns count characters.</summary>
    internal (int Line, int Column) PlaceOf(int offset)
    {
        int[] starts = _lineStarts ??= LineStarts();
        int line = Array.BinarySearch(starts, offset);
        if (line < 0)
        {
            line = ~line - 1;
        }

        int column = 1;
        foreach (byte b in Utf8.Span[starts[line]..Math.Min(offset, Utf8.Length)])
        {
            // Every byte but the continuation bytes 10xxxxxx begins a character.
            column += (b & 0xC0) == 0x80 ? 0 : 1;
        }

        return (line + 1, column);
    }

    private static int FirstInvalid(ReadOnlySpan<byte> body)
    {
        int at = 0;
        while (at < body.Length && Rune.DecodeFromUtf8(body[at..], out _, out int used) == System.Buffers.OperationStatus.Done)
        {
            at += used;
        }

        return Math.Min(at, body.Length - 1);
    }

    private int[] LineStarts()
    {
        List<int> starts = [0];
        ReadOnlySpan<byte> body = Utf8.Span;
        for (int i = 0; i < body.Length; i++)
        {
            // Lines end with LF, CR LF, or a lone CR.
            if (body[i] == '\n' || (body[i] == '\r' && (i + 1 == body.Length || body[i + 1] != '\n')))
            {
                starts.Add(i + 1);
            }
        }

        return [.. starts];
    }

    private static byte[] AllBytes(string name, Stream stream, int largestBytes)
    {
        // A file whose length is known is held once, without the doublings of a stream that grows.
        if (stream.CanSeek && stream.Length <= largestBytes)
        {
            var whole = new byte[stream.Length - stream.Position];
            int read = stream.ReadAtLeast(whole, whole.Length, throwOnEndOfStream: false);
            if (read == whole.Length && stream.ReadByte() < 0)
            {
                return whole;
            }

            // It shrinks or grows under the reader's eyes.
            stream.Position -= read;
        }

        using MemoryStream all = new();
        byte[] block = new byte[64 * 1024];
        int got;
        while ((got = stream.Read(block)) > 0)
        {
            if (all.Length + got > largestBytes)
            {
                throw new InvalidInputException(name, $"The file is larger than {largestBytes / 1_000_000} MB; no larger file is read.");
            }

            all.Write(block, 0, got);
        }

        return all.ToArray();
    }
}
