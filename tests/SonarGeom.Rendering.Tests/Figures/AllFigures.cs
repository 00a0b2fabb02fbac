using System.Reflection;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Tests.Figures;

/// <summary>Every example figure by name.</summary>
internal static class AllFigures
{
    private static readonly Dictionary<string, Func<Figure>> ByName = typeof(Examples)
        .GetMethods(BindingFlags.Static | BindingFlags.Public)
        .Where(m => typeof(Figure).IsAssignableFrom(m.ReturnType) && m.GetParameters().Length == 0)
        .ToDictionary(m => m.Name, m => (Func<Figure>)(() => (Figure)m.Invoke(null, null)!));

    public static string[] SortedNames => [.. ByName.Keys.Order(StringComparer.Ordinal)];

    public static TheoryData<string> Names()
    {
        var names = new TheoryData<string>();
        foreach (string name in SortedNames)
        {
            names.Add(name);
        }

        return names;
    }

    public static Figure Make(string name) => ByName[name]();
}
