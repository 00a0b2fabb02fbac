using System.Runtime.ConstrainedExecution;
using System.Runtime.InteropServices;

namespace SonarGeom.Geometry.Rays;

/// <summary>
/// A block of memory outside the managed heap that starts on a cache line. It is freed on <see cref="Free"/>, or when nothing
/// refers to this object any more: keep it alive while its pointer is in use.
/// </summary>
internal sealed unsafe class NativeMemoryBlock : CriticalFinalizerObject
{
    private const int CacheLine = 64;

    private byte* _pointer;

    public NativeMemoryBlock(long bytes)
    {
        _pointer = (byte*)NativeMemory.AlignedAlloc((nuint)Math.Max(bytes, CacheLine), CacheLine);
        Bytes = bytes;
    }

    ~NativeMemoryBlock() => Free();

    /// <summary>Gets the start.</summary>
    public byte* Pointer => _pointer;

    /// <summary>Gets the size.</summary>
    public long Bytes { get; }

    /// <summary>Frees the memory. The pointer must not be used again.</summary>
    public void Free()
    {
        NativeMemory.AlignedFree(_pointer);
        _pointer = null;
    }
}
