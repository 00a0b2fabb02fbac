using System.Globalization;
using System.Text;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Meshes;

namespace SonarGeom.Files.Tests.Meshes;

/// <summary>Damaged mesh files: each is read or refused with one sentence, in little time and little memory, and nothing else happens.</summary>
public sealed class MeshFuzzTests
{
    private const int Cases = 6000;
    private const long MostBytes = 256L * 1024 * 1024;

    private static readonly string[] ObjPieces =
    [
        "nan", "-inf", "1e999", "1e300", "-1", "0", "2147483648", "-9999999999", "f 1 1 1\n", "f 1 2 3 4 5 6 7 8\n", "v 0 0 0\n", "v 1001 0 0\n", "\\", "\0",
        "usemtl \n", "f 1//\n", "/", "\r", "f -1 -1 -1\n", "v 1e-320 0 0\n", "\uFEFF", "curv 1 2\n", " ", "f", "ü",
    ];

    private static readonly string[] GlbPieces =
    [
        "-1", "0", "1e9", "2147483647", "4294967296", "null", "[]", "{}", "\"\"", "true", "1.5", "99999999999999999999", "NaN", "5125", "5121", "5126", "5120", "3", "4", "5", "6",
        "\"VEC4\"", "\"SCALAR\"", "\"sparse\":{\"count\":9},", "\"byteStride\":1,", "\"children\":[0],", "\"matrix\":[0,0,0,0,0,0,0,0,0,0,0,0,0,0,0,0],", ",", "}", "]",
    ];

    [Fact]
    public void DamagedObjFilesAreReadOrRefused() => Run("mesh.obj", MeshSamples.Metres, seed =>
    {
        var random = new Random(seed);
        List<byte> bytes = [.. Encoding.UTF8.GetBytes(MeshSamples.BoxObj)];
        Damage(bytes, random, ObjPieces, 0, bytes.Count);
        return [.. bytes];
    });

    [Fact]
    public void DamagedGlbFilesAreReadOrRefused()
    {
        byte[] whole = MeshSamples.BoxGlb();
        int jsonLength = BitConverter.ToInt32(whole, 12);
        byte[] json = whole[20..(20 + jsonLength)], binary = whole[(20 + jsonLength + 8)..];
        Run("mesh.glb", new MeshFileOptions(), seed =>
        {
            var random = new Random(seed);
            switch (seed % 4)
            {
                case 0:
                    // The container itself.
                    List<byte> bytes = [.. whole];
                    Damage(bytes, random, GlbPieces, 0, bytes.Count);
                    return [.. bytes];
                case 1:
                    // The numbers of vertices and corners: NaN, infinities, huge, negative, all zero.
                    byte[] numbers = [.. binary];
                    for (int i = random.Next(1, 6); i > 0; i--)
                    {
                        uint value = random.Next(6) switch { 0 => 0x7FC00000, 1 => 0x7F800000, 2 => 0xFFFFFFFF, 3 => 0x7F7FFFFF, 4 => 0, _ => (uint)random.Next() };
                        BitConverter.TryWriteBytes(numbers.AsSpan(4 * random.Next(numbers.Length / 4)), value);
                    }

                    return MeshSamples.Glb(json, numbers);
                default:
                    // The description, in a container that is whole.
                    List<byte> text = [.. json];
                    Damage(text, random, GlbPieces, 0, text.Count);
                    return MeshSamples.Glb([.. text], binary);
            }
        });
    }

    private static void Run(string name, MeshFileOptions options, Func<int, byte[]> damaged)
    {
        int read = 0;
        for (int seed = 0; seed < Cases; seed++)
        {
            byte[] bytes = damaged(seed);
            if (bytes.Length == 0)
            {
                continue;
            }

            long before = GC.GetAllocatedBytesForCurrentThread();
            try
            {
                MeshSamples.Read(name, bytes, options);
                read++;
            }
            catch (InvalidInputException e)
            {
                foreach (Fault fault in e.Faults)
                {
                    Assert.True(fault.Message.EndsWith('.') || fault.Message.EndsWith('?'), $"seed {seed}: {fault.Message}");
                    Assert.False(fault.Message.Any(c => c is '\n' or '\r') || fault.Message.Contains("Exception", StringComparison.Ordinal), $"seed {seed}: {fault.Message}");
                }
            }
            catch (Exception e) when (e is not Xunit.Sdk.XunitException)
            {
                throw new Xunit.Sdk.XunitException($"Seed {seed}: {e}");
            }

            long used = GC.GetAllocatedBytesForCurrentThread() - before;
            Assert.True(used < MostBytes, $"seed {seed} used {used} bytes");
        }

        // Most damage must be found, and some changes (a comment, a digit) leave a file valid.
        Assert.InRange(read, Cases / 100, Cases * 9 / 10);
    }

    private static void Damage(List<byte> bytes, Random random, string[] pieces, int from, int to)
    {
        for (int i = 1 + random.Next(3); i > 0 && bytes.Count > 2; i--)
        {
            int at = Math.Min(random.Next(from, to), bytes.Count - 1);
            switch (random.Next(6))
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
                    int start = random.Next(bytes.Count);
                    bytes.InsertRange(at, bytes.GetRange(start, Math.Min(random.Next(1, 80), bytes.Count - start)).ToArray());
                    break;
                default:
                    // The next number becomes another.
                    while (at < bytes.Count && !char.IsAsciiDigit((char)bytes[at]))
                    {
                        at++;
                    }

                    int end = at;
                    while (end < bytes.Count && (char.IsAsciiDigit((char)bytes[end]) || bytes[end] == '.'))
                    {
                        end++;
                    }

                    bytes.RemoveRange(at, end - at);
                    bytes.InsertRange(at, Encoding.UTF8.GetBytes(pieces[random.Next(pieces.Length)]));
                    break;
            }
        }
    }
}
