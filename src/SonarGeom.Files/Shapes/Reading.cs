using SonarGeom.Bodies;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;

namespace SonarGeom.Files.Shapes;

/// <summary>One reading of a file and of all files that it leads to: its faults, and the way by which each file was reached.</summary>
/// <param name="store">The files of the reading.</param>
/// <param name="bodyTables">The tables from which wearers are built, to check that they can be; null to leave that out.</param>
internal sealed class Reading(DocumentStore store, BodyTables? bodyTables = null)
{
    private readonly Dictionary<WearerSpec, (Body? Body, string Refusal)> _bodies = [];

    /// <summary>Gets the faults found so far.</summary>
    internal FaultList Faults { get; } = store.Faults;

    /// <summary>Gets the files of this reading.</summary>
    internal DocumentStore Store { get; } = store;

    /// <summary>Gets whether wearers are built to check that they can be.</summary>
    internal bool ChecksBodies => bodyTables is not null;

    /// <summary>Returns the body of a wearer, or null and one sentence when it cannot be built.</summary>
    internal Body? BodyOf(WearerSpec wearer, out string refusal)
    {
        if (!_bodies.TryGetValue(wearer, out (Body? Body, string Refusal) made))
        {
            try
            {
                made = (Body.Build(wearer, bodyTables!), string.Empty);
            }
            catch (ArgumentException e)
            {
                made = (null, Sentences.Of(e));
            }

            _bodies[wearer] = made;
        }

        refusal = made.Refusal;
        return made.Body;
    }

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
