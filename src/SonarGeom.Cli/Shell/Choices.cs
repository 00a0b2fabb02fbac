using System.CommandLine;
using System.Text;
using SonarGeom.Files.Faults;

namespace SonarGeom.Cli.Shell;

/// <summary>Options that take one of a few words.</summary>
internal static class Choices
{
    /// <summary>Makes an option whose words are the members of an enumeration, in small letters with hyphens.</summary>
    internal static Option<T?> Option<T>(string name, string description)
        where T : struct, Enum
    {
        string[] words = Words<T>();
        return new Option<T?>(name)
        {
            Description = $"{description} One of {string.Join(", ", words)}.",
            HelpName = "WORD",
            CustomParser = result =>
            {
                string text = result.Tokens[0].Value;
                if (TryFind(text, out T found))
                {
                    return found;
                }

                string near = NearestName.Of(text, words) is { } name ? $"; did you mean {name}?" : ".";
                result.AddError($"{result.Argument.Name} is {Numbers.Shown(text)}; it must be one of {string.Join(", ", words)}{near}");
                return null;
            },
        };
    }

    /// <summary>Returns the words of an enumeration.</summary>
    internal static string[] Words<T>()
        where T : struct, Enum => [.. Enum.GetValues<T>().Select(v => Word(v.ToString(), '-'))];

    /// <summary>Finds the member of an enumeration that a word stands for.</summary>
    internal static bool TryFind<T>(string text, out T found)
        where T : struct, Enum
    {
        int at = Array.IndexOf(Words<T>(), text.Replace('_', '-'));
        found = at >= 0 ? Enum.GetValues<T>()[at] : default;
        return at >= 0;
    }

    /// <summary>Writes the name of an enumeration's member in small letters with a mark between its words.</summary>
    internal static string Word(string member, char between)
    {
        StringBuilder word = new();
        foreach (char c in member)
        {
            if (char.IsUpper(c) && word.Length > 0)
            {
                word.Append(between);
            }

            word.Append(char.ToLowerInvariant(c));
        }

        return word.ToString();
    }
}
