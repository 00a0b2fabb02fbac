namespace SonarGeom.Files.Faults;

/// <summary>Finds which known name a mistyped one was most likely meant to be.</summary>
public static class NearestName
{
    /// <summary>Returns the known name that takes the fewest changed, missing, added or swapped letters to reach from the
    /// given one, or null when none is near. Upper and lower case, blanks, hyphens and underscores count as alike.</summary>
    /// <param name="given">The name as written.</param>
    /// <param name="known">The names that are allowed.</param>
    public static string? Of(string given, IEnumerable<string> known)
    {
        ArgumentNullException.ThrowIfNull(given);
        ArgumentNullException.ThrowIfNull(known);
        if (given.Length > 100)
        {
            return null;
        }

        string plain = Plain(given);
        string? best = null;
        int fewest = Math.Max(2, given.Length / 3) + 1;
        foreach (string name in known)
        {
            int changes = Changes(plain, Plain(name));
            if (changes < fewest && changes < Math.Max(plain.Length, 1))
            {
                (best, fewest) = (name, changes);
            }
        }

        return best;
    }

    /// <summary>Says what may stand in place of an unknown name: the nearest if one is near, else all of them.</summary>
    /// <param name="given">The name as written.</param>
    /// <param name="known">The names that are allowed.</param>
    public static string Advice(string given, IReadOnlyCollection<string> known)
    {
        ArgumentNullException.ThrowIfNull(known);
        return Of(given, known) is { } near
            ? $"did you mean {near}?"
            : $"known are {string.Join(", ", known)}.";
    }

    private static string Plain(string name) =>
        name.Replace(' ', '_').Replace('-', '_').ToLowerInvariant();

    // The restricted Damerau–Levenshtein distance: insertions, deletions, substitutions, swaps of neighbours.
    private static int Changes(string a, string b)
    {
        int[] beforeLast = new int[b.Length + 1];
        int[] last = new int[b.Length + 1];
        int[] row = new int[b.Length + 1];
        for (int j = 0; j <= b.Length; j++)
        {
            last[j] = j;
        }

        for (int i = 1; i <= a.Length; i++)
        {
            row[0] = i;
            for (int j = 1; j <= b.Length; j++)
            {
                int replaced = last[j - 1] + (a[i - 1] == b[j - 1] ? 0 : 1);
                row[j] = Math.Min(replaced, Math.Min(last[j], row[j - 1]) + 1);
                if (i > 1 && j > 1 && a[i - 1] == b[j - 2] && a[i - 2] == b[j - 1])
                {
                    row[j] = Math.Min(row[j], beforeLast[j - 2] + 1);
                }
            }

            (beforeLast, last, row) = (last, row, beforeLast);
        }

        return last[b.Length];
    }
}
