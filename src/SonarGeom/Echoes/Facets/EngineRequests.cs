using System.Collections.Immutable;

namespace SonarGeom.Echoes.Facets;

/// <summary>Which engine is asked for, obstacle by obstacle.</summary>
/// <param name="Usual">For every obstacle that is not named.</param>
public sealed record EngineRequests(EngineRequest Usual)
{
    /// <summary>Gets what is asked for single obstacles, by their names.</summary>
    public ImmutableSortedDictionary<string, EngineRequest> Of { get; init; } = ImmutableSortedDictionary.Create<string, EngineRequest>(StringComparer.Ordinal);

    /// <summary>Returns what is asked for an obstacle.</summary>
    /// <param name="obstacleId">Its name.</param>
    public EngineRequest For(string obstacleId) => Of.GetValueOrDefault(obstacleId, Usual);

    /// <summary>One engine for all obstacles.</summary>
    /// <param name="usual">The engine.</param>
    public static implicit operator EngineRequests(EngineRequest usual) => new(usual);

    /// <summary>The same requests: the same engine for every obstacle.</summary>
    /// <param name="other">The others.</param>
    public bool Equals(EngineRequests? other) => other is not null && Usual == other.Usual && Of.SequenceEqual(other.Of);

    /// <inheritdoc/>
    public override int GetHashCode() => HashCode.Combine(Usual, Of.Count);
}
