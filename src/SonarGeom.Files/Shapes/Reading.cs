using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Shapes;

/// <summary>One reading of a file and of all files that it leads to: its faults, and the way by which each file was reached.</summary>
internal sealed class Reading(DocumentStore store)
{
    /// <summary>Gets the faults found so far.</summary>
    internal FaultList Faults { get; } = store.Faults;

    /// <summary>Gets the files of this reading.</summary>
    internal DocumentStore Store { get; } = store;

    /// <summary>Adds a fault at a value.</summary>
    /// <param name="value">The faulty value.</param>
    /// <param name="message">One sentence: what is wrong and what is allowed.</param>
    internal void Fault(PlacedValue value, string message)
    {
        if (Faults.IsFull)
        {
            Faults.AddUntold();
            return;
        }

        (int line, int column) = value.Source.PlaceOf(value.Offset);
        Faults.Add(new Fault(value.Source.Name, line, column, value.Path, message));
    }

    /// <summary>Adds the fault that a value is not what it must be.</summary>
    /// <param name="value">The faulty value.</param>
    /// <param name="allowed">What is allowed, to follow "it must be".</param>
    internal void Refuse(PlacedValue value, string allowed) => Fault(value, $"{value.Name} {value.Is}; it must be {allowed}.");
}
