using System.Buffers.Binary;
using System.Text.Json;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Meshes;

/// <summary>The two chunks of a glTF file: its description and the bytes that a GLB file carries along.</summary>
/// <param name="Json">The description.</param>
/// <param name="Binary">The bytes of buffer 0; null in a glTF file.</param>
internal sealed record GltfContainer(JsonDocument Json, ReadOnlyMemory<byte>? Binary)
{
    private const uint Magic = 0x46546C67;
    private const uint JsonChunk = 0x4E4F534A;
    private const uint BinaryChunk = 0x004E4942;
    private const int HeaderBytes = 12;
    private const int ChunkHeaderBytes = 8;
    private const int LargestJsonBytes = 30_000_000;

    private static readonly JsonDocumentOptions Strict = new() { MaxDepth = 64 };

    /// <summary>Takes a file apart.</summary>
    /// <exception cref="InvalidInputException">It is cut off, or its description is no JSON object.</exception>
    internal static GltfContainer Of(InputText file)
    {
        ReadOnlyMemory<byte> bytes = file.Utf8;
        ReadOnlySpan<byte> span = bytes.Span;
        if (span.Length < 4 || BinaryPrimitives.ReadUInt32LittleEndian(span) != Magic)
        {
            return file.Name.EndsWith(".glb", StringComparison.OrdinalIgnoreCase)
                ? throw Refused("The file does not begin as a GLB file must.")
                : new GltfContainer(Parsed(bytes), null);
        }

        if (span.Length < HeaderBytes + ChunkHeaderBytes)
        {
            throw Refused($"The file is cut off after {span.Length} bytes.");
        }

        uint version = BinaryPrimitives.ReadUInt32LittleEndian(span[4..]), length = BinaryPrimitives.ReadUInt32LittleEndian(span[8..]);
        if (version != 2)
        {
            throw Refused($"The file is of GLB version {version}; it must be of version 2.");
        }

        if (length != span.Length)
        {
            throw Refused($"The file says that it has {length} bytes, but it has {span.Length}; it may be cut off.");
        }

        int at = HeaderBytes;
        ReadOnlyMemory<byte> json = Chunk(JsonChunk, "description") ?? throw Refused("The file has no description where it must stand.");
        ReadOnlyMemory<byte>? binary = at < span.Length ? Chunk(BinaryChunk, "bytes") : null;
        return new GltfContainer(Parsed(json), binary);

        ReadOnlyMemory<byte>? Chunk(uint kind, string what)
        {
            if (bytes.Length - at < ChunkHeaderBytes)
            {
                throw Refused($"The chunk of its {what} is cut off.");
            }

            uint size = BinaryPrimitives.ReadUInt32LittleEndian(bytes.Span[at..]), its = BinaryPrimitives.ReadUInt32LittleEndian(bytes.Span[(at + 4)..]);
            if (size > bytes.Length - at - ChunkHeaderBytes)
            {
                throw Refused($"The chunk of its {what} says that it has {size} bytes, more than the file has left.");
            }

            int start = at + ChunkHeaderBytes;
            at = start + (int)size;
            return its == kind ? bytes.Slice(start, (int)size) : null;
        }

        JsonDocument Parsed(ReadOnlyMemory<byte> text)
        {
            if (text.Length > LargestJsonBytes)
            {
                throw Refused($"The description has {text.Length} bytes; it may have at most {LargestJsonBytes}.");
            }

            try
            {
                var document = JsonDocument.Parse(text, Strict);
                return document.RootElement.ValueKind == JsonValueKind.Object ? document : throw Refused("The description is no JSON object.");
            }
            catch (JsonException e)
            {
                throw Refused($"The description is no valid JSON at line {e.LineNumber + 1}.");
            }
        }

        InvalidInputException Refused(string message) => new(file.Name, message);
    }
}
