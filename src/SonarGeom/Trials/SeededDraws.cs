namespace SonarGeom.Trials;

/// <summary>Random numbers that hinge on a seed and a few keys alone, so that any walk can be drawn again by itself.</summary>
/// <remarks>SplitMix64, a public domain algorithm (Steele, Lea and Flood 2014, from memory).</remarks>
internal struct SeededDraws
{
    private const ulong Golden = 0x9E3779B97F4A7C15;

    private ulong _state;

    internal SeededDraws(ulong seed, ulong a, ulong b = 0, ulong c = 0, ulong d = 0)
    {
        _state = Mixed(seed + Golden);
        foreach (ulong key in (ReadOnlySpan<ulong>)[a, b, c, d])
        {
            _state = Mixed(unchecked(_state + (Golden * (key + 1))));
        }
    }

    /// <summary>Returns a number from 0 to below 1.</summary>
    internal double Uniform()
    {
        _state = unchecked(_state + Golden);
        return (Mixed(_state) >> 11) * (1.0 / (1UL << 53));
    }

    /// <summary>Returns a number from −1 to 1.</summary>
    internal double Symmetric() => (2 * Uniform()) - 1;

    /// <summary>Returns a normal deviate of mean 0 and standard deviation 1 (Box and Muller 1958).</summary>
    internal double Normal()
    {
        double radius = Math.Sqrt(-2 * Math.Log(1 - Uniform()));
        return radius * Math.Cos(2 * Math.PI * Uniform());
    }

    /// <summary>Returns a normal deviate cut off at twice its standard deviation.</summary>
    internal double Bounded()
    {
        double draw;
        do
        {
            draw = Normal();
        }
        while (Math.Abs(draw) > 2);
        return draw;
    }

    /// <summary>Returns an exponential deviate of mean 1.</summary>
    internal double Exponential() => -Math.Log(1 - Uniform());

    /// <summary>Returns a key that stands for a name (FNV-1a).</summary>
    internal static ulong KeyOf(string name)
    {
        ulong hash = 0xCBF29CE484222325;
        foreach (char c in name)
        {
            hash = unchecked((hash ^ c) * 0x100000001B3);
        }

        return hash;
    }

    private static ulong Mixed(ulong x)
    {
        x = unchecked((x ^ (x >> 30)) * 0xBF58476D1CE4E5B9);
        x = unchecked((x ^ (x >> 27)) * 0x94D049BB133111EB);
        return x ^ (x >> 31);
    }
}
