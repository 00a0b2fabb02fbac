using System.Collections.Immutable;
using System.Runtime.InteropServices;
using SonarGeom.Echoes;

namespace SonarGeom.Coverage;

/// <summary>A map while its rows are filled.</summary>
internal sealed class MapDraft(Probe probe, CellSearch search, CoverageGrid grid, ImmutableArray<bool> inside)
{
    internal Probe Probe => probe;

    internal CellSearch Search => search;

    internal bool[] Inside { get; } = ImmutableCollectionsMarshal.AsArray(inside) ?? new bool[grid.Count];

    /// <summary>Whether <see cref="Inside"/> is filled already, and shared with another map.</summary>
    internal bool IsInsideKnown { get; } = !inside.IsDefault;

    internal float[] Warning { get; } = new float[grid.Count];

    internal float[] Unbroken { get; } = new float[grid.Count];

    internal float[] Held { get; } = new float[grid.Count];

    internal LimitingCause[] Causes { get; } = new LimitingCause[grid.Count];

    internal sbyte[] Sensors { get; } = new sbyte[grid.Count];

    internal byte[] Hearing { get; } = new byte[grid.Count];

    /// <summary>The number of echoes computed, row by row.</summary>
    internal long[] Evaluations { get; } = new long[grid.Rows];
}
