using System.Text.RegularExpressions;

namespace SonarGeom.Cli.Tests.Reports;

/// <summary>What must hold for every page, whatever it tells.</summary>
internal static class PageChecks
{
    internal static void IsCompleteWithoutSight(string page)
    {
        int[] levels = [.. Regex.Matches(page, "<h([1-6])[ >]").Select(m => m.Groups[1].Value[0] - '0')];
        Assert.Equal(1, levels[0]);
        Assert.Single(levels, 1);
        Assert.All(levels.Zip(levels.Skip(1)), pair => Assert.True(pair.Second <= pair.First + 1, $"h{pair.First} is followed by h{pair.Second}"));

        string[] pictures = [.. Regex.Matches(page, "<img [^>]*>").Select(m => m.Value)];
        Assert.NotEmpty(pictures);
        Assert.All(pictures, p => Assert.Matches("alt=\"[^\"]{20,}\"", p[..Math.Min(p.Length, 600)]));
        Assert.Equal(pictures.Length, Regex.Count(page, "<figcaption><strong>[^<]{20,}</strong>"));

        Assert.StartsWith("<!DOCTYPE html>\n<html lang=\"en-GB\">", page, StringComparison.Ordinal);
        Assert.All(["<header>", "<nav aria-label=", "<main id=\"main\"", "<footer>", "href=\"#main\""], mark => Assert.Contains(mark, page, StringComparison.Ordinal));
        int tables = Regex.Count(page, "<table>");
        Assert.Equal(tables, Regex.Count(page, "<caption "));
        Assert.Equal(tables, Regex.Count(page, "role=\"region\" tabindex=\"0\" aria-labelledby="));
        Assert.DoesNotMatch("<t[hd][^>]*></t[hd]>", page);
        Assert.DoesNotMatch("<th(?! scope)", page.Replace("<thead", "<head", StringComparison.Ordinal));
    }

    internal static void IsSelfContained(string page)
    {
        // Pictures are put in as data; what is left must not reach out.
        string bare = Regex.Replace(page, "data:image/svg\\+xml;base64,[A-Za-z0-9+/=]+", "data:");
        Assert.DoesNotContain("http:", bare, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("https:", bare, StringComparison.OrdinalIgnoreCase);
        Assert.DoesNotContain("//", bare.Replace("</", "<", StringComparison.Ordinal), StringComparison.Ordinal);
        Assert.DoesNotContain("<script", bare, StringComparison.OrdinalIgnoreCase);
        string[] ids = [.. Regex.Matches(bare, " id=\"([^\"]+)\"").Select(m => m.Groups[1].Value)];
        Assert.Equal(ids.Length, ids.Distinct().Count());
        Assert.All(Regex.Matches(bare, "(?:href=\"#|aria-labelledby=\")([^\"]+)\"").Select(m => m.Groups[1].Value), target => Assert.Contains(target, ids));
    }
}
