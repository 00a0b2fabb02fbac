namespace SonarGeom.Files.Faults;

/// <summary>One thing wrong with an input file, said in one sentence.</summary>
/// <param name="File">The file as the user named it, or as the file that refers to it leads to it.</param>
/// <param name="Line">Line of the faulty value, counted from 1; null when the fault is the file's as a whole.</param>
/// <param name="Column">Character of that line at which the value begins, counted from 1; null as for the line.</param>
/// <param name="Field">Where in the file's structure the value stands, such as <c>sensors[1].mount.tilt_deg</c>, or the
/// column of a table; null when the fault is of no one field.</param>
/// <param name="Message">One sentence: which value, what it is, what is allowed.</param>
public sealed record Fault(string File, int? Line, int? Column, string? Field, string Message)
{
    /// <summary>Writes the fault as <c>layouts/chest.json:14:17: tilt_deg is 95; it must be from -90 to 90.</c></summary>
    public override string ToString() => (Line, Column) switch
    {
        (int line, int column) => $"{File}:{line}:{column}: {Message}",
        (int line, null) => $"{File}:{line}: {Message}",
        _ => $"{File}: {Message}",
    };
}
