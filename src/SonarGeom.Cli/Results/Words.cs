using SonarGeom.Cli.Shell;
using SonarGeom.Coverage;
using SonarGeom.Layouts;

namespace SonarGeom.Cli.Results;

/// <summary>The words for what the model names by enumeration: codes for programs, words for people.</summary>
internal static class Words
{
    /// <summary>Returns the code of a value: small letters and underscores.</summary>
    internal static string Code<T>(T value)
        where T : struct, Enum => Choices.Word(value.ToString(), '_');

    /// <summary>Returns the word for a value: small letters and blanks.</summary>
    internal static string Of<T>(T value)
        where T : struct, Enum => Choices.Word(value.ToString(), ' ');

    /// <summary>Returns the words for a side of the wearer.</summary>
    internal static string Of(HazardSide side) => side == HazardSide.Centre ? "middle" : Of<HazardSide>(side);

    /// <summary>Returns the words for the bands from one to another.</summary>
    internal static string Span(HeightBand low, HeightBand high) => low == high ? Of(low) : $"{Of(low)} to {Of(high)}";

    /// <summary>Returns the words for an outcome.</summary>
    internal static string Of(VerdictOutcome outcome) => outcome switch
    {
        VerdictOutcome.WarnedInTime => "warned in time",
        VerdictOutcome.TooLate => "too late",
        VerdictOutcome.WrongSide => "wrong side",
        VerdictOutcome.Missed => "MISSED",
        VerdictOutcome.LostAgain => "LOST AGAIN",
        VerdictOutcome.PassedBesideHeard => "beside, heard",
        VerdictOutcome.PassedBesideSilent => "beside, silent",
        VerdictOutcome.Withheld => "NO VERDICT",
        _ => Of<VerdictOutcome>(outcome),
    };

    /// <summary>Returns the word for an announced side.</summary>
    internal static string Of(AnnouncedSide side) => Of<AnnouncedSide>(side);
}
