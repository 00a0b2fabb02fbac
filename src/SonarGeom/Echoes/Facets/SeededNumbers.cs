using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>Random numbers that are the same on every machine and in every version for the same seed.</summary>
/// <remarks>SplitMix64; Steele, Lea and Flood, OOPSLA 2014 (from memory).</remarks>
internal struct SeededNumbers
{
    private ulong _state;

    internal SeededNumbers(long seed) => _state = Mix(unchecked((ulong)seed + 0x632BE59BD9B4E019UL));

    /// <summary>A number from 0 to below 1.</summary>
    internal double Unit()
    {
        _state = unchecked(_state + 0x9E3779B97F4A7C15UL);
        return (Mix(_state) >> 11) * (1.0 / (1UL << 53));
    }

    internal double Between(double low, double high) => low + ((high - low) * Unit());

    /// <summary>A direction, all equally likely.</summary>
    internal Vec3 Direction()
    {
        double z = Between(-1.0, 1.0);
        var (sine, cosine) = Math.SinCos(2.0 * Math.PI * Unit());
        double across = Math.Sqrt(1.0 - (z * z));
        return new Vec3(across * cosine, across * sine, z);
    }

    /// <summary>A complex normal number of unit mean power.</summary>
    internal (double Real, double Imaginary) Normal()
    {
        double radius = Math.Sqrt(-Math.Log(1.0 - Unit()));
        var (sine, cosine) = Math.SinCos(2.0 * Math.PI * Unit());
        return (radius * cosine, radius * sine);
    }

    /// <summary>Spreads every bit over all others; neighbouring seeds then start far apart.</summary>
    private static ulong Mix(ulong z)
    {
        z = unchecked((z ^ (z >> 30)) * 0xBF58476D1CE4E5B9UL);
        z = unchecked((z ^ (z >> 27)) * 0x94D049BB133111EBUL);
        return z ^ (z >> 31);
    }
}
