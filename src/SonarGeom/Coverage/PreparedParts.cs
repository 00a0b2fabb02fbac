using System.Collections.Concurrent;
using SonarGeom.Echoes;
using SonarGeom.Transducers;

namespace SonarGeom.Coverage;

/// <summary>Transducers made ready for one air, each only once.</summary>
internal sealed class PreparedParts(EchoMedium medium)
{
    private readonly ConcurrentDictionary<Transducer, PreparedTransducer> _parts = new(ReferenceEqualityComparer.Instance);

    internal EchoMedium Medium => medium;

    internal PreparedTransducer Of(Transducer transducer) => _parts.GetOrAdd(transducer, t => new PreparedTransducer(t, medium));
}
