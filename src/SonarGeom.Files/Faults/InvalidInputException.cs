using System.Collections.Immutable;

namespace SonarGeom.Files.Faults;

/// <summary>An input file cannot be used. It holds every fault found, not only the first.</summary>
public sealed class InvalidInputException : Exception
{
    /// <summary>Makes the exception of one fault.</summary>
    /// <param name="fault">The fault.</param>
    public InvalidInputException(Fault fault)
        : this([fault])
    {
    }

    /// <summary>Makes the exception of all faults found.</summary>
    /// <param name="faults">At least one fault, in the order in which they are to be read.</param>
    /// <exception cref="ArgumentException">There is no fault.</exception>
    public InvalidInputException(ImmutableArray<Fault> faults)
        : base(Text(faults))
    {
        Faults = faults;
    }

    /// <summary>Makes the exception of a fault of a file as a whole.</summary>
    /// <param name="file">The file as the user named it.</param>
    /// <param name="message">One sentence: what is wrong and what is allowed.</param>
    public InvalidInputException(string file, string message)
        : this(new Fault(file, null, null, null, message))
    {
    }

    /// <summary>Gets the faults, at least one.</summary>
    public ImmutableArray<Fault> Faults { get; }

    private static string Text(ImmutableArray<Fault> faults) =>
        faults.IsDefaultOrEmpty
            ? throw new ArgumentException("An input is invalid only if it has at least one fault.", nameof(faults))
            : string.Join('\n', faults);
}
