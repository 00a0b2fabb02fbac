using System.Globalization;
using System.Text;
using SonarGeom.Coverage;

namespace SonarGeom.Cli.Results;

/// <summary>Makes names of files from names that users gave.</summary>
internal static class FileNames
{
    /// <summary>Returns a name in small letters, digits and hyphens; never empty.</summary>
    internal static string Of(string name)
    {
        var plain = new StringBuilder();
        foreach (char c in name.ToLowerInvariant())
        {
            bool keep = char.IsAsciiLetterOrDigit(c) || char.IsLetter(c);
            if (keep || (plain.Length > 0 && plain[^1] != '-'))
            {
                plain.Append(keep ? c : '-');
            }
        }

        string trimmed = plain.ToString().Trim('-');
        return trimmed.Length == 0 ? "unnamed" : trimmed.Length > 60 ? trimmed[..60].Trim('-') : trimmed;
    }

    /// <summary>Returns the name of a slice: its plane and where it lies.</summary>
    internal static string Of(MarginSlice slice)
    {
        string at = slice.AtMetres.ToString("0.00", CultureInfo.InvariantCulture);
        return slice.Plane == SlicePlane.Plan ? $"slice-plan-{at}m-high" : $"slice-side-{at}m-left";
    }

    /// <summary>Returns the name of a difference map.</summary>
    internal static string Of(Studies.DifferenceMap map) => $"difference-{Of(map.LayoutName)}-{Of(map.ProbeName)}";
}
