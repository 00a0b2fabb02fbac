using System.Collections.Immutable;

namespace SonarGeom.Files.Faults;

/// <summary>Collects the faults of one reading, so that a user sees all of them at once.</summary>
internal sealed class FaultList
{
    /// <summary>Most faults told one by one; beyond it only their number is told.</summary>
    internal const int Most = 100;

    private readonly List<Fault> _faults = [];
    private int _untold;

    /// <summary>Gets whether there is any fault.</summary>
    internal bool Any => _faults.Count > 0;

    /// <summary>Gets how many faults were added.</summary>
    internal int Count => _faults.Count + _untold;

    /// <summary>Gets whether further faults are only counted, so that their places need not be found.</summary>
    internal bool IsFull => _faults.Count >= Most;

    /// <summary>Counts a fault that is not told.</summary>
    internal void AddUntold() => _untold++;

    /// <summary>Adds a fault; an exact repeat is dropped.</summary>
    internal void Add(Fault fault)
    {
        if (IsFull)
        {
            AddUntold();
        }
        else if (!_faults.Contains(fault))
        {
            _faults.Add(fault);
        }
    }

    /// <summary>Adds all faults of another reading.</summary>
    internal void AddRange(InvalidInputException invalid)
    {
        foreach (Fault fault in invalid.Faults)
        {
            Add(fault);
        }
    }

    /// <summary>Throws all faults, in the order of files and lines, if there are any.</summary>
    internal void ThrowIfAny()
    {
        if (!Any)
        {
            return;
        }

        // Files keep the order in which they were first at fault; within a file the faults follow the lines.
        List<string> files = [.. _faults.Select(f => f.File).Distinct(StringComparer.Ordinal)];
        IEnumerable<Fault> ordered = _faults
            .OrderBy(f => files.IndexOf(f.File))
            .ThenBy(f => f.Line ?? 0)
            .ThenBy(f => f.Column ?? 0);
        ImmutableArray<Fault> told = [.. ordered];
        if (_untold > 0)
        {
            told = told.Add(new Fault(told[^1].File, null, null, null, $"There are at least {_untold} faults more; mend these first."));
        }

        throw new InvalidInputException(told);
    }
}
