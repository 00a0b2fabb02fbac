using System.Reflection;
using SonarGeom.Coverage;

namespace SonarGeom.Tests.Conventions;

/// <summary>What a newcomer may rely on for every public type of the model.</summary>
public sealed class PublicTypeTests
{
    private static readonly string[] Units =
    [
        "Metre", "Second", "Hertz", "Decibel", "Degree", "Radian", "Kelvin", "Celsius", "Pascal", "Percent", "Fraction", "Share", "Ratio",
        "Kilogram", "Hits", "Cells", "Millimetre", "Amplitude", "Weight", "Probability", "Wavenumber", "Watt", "Neper", "Quality", "Unitless",
        "Power", "Kilohertz", "PerHour", "PerMinute", "seconds", "Years", "Exponent", "Correlation",
    ];

    // Rows of survey tables and estimates from them: the unit is that of the measure which the row names.
    private static readonly string[] UnitInTheRow =
    [
        "AdultPercentiles", "AdultRegression", "ChildProportion", "WalkingExcursion", "Assumption", "Estimate", "BodyDimensions", "FittedNumber",
    ];

    private static IEnumerable<Type> Types => typeof(ApproachMap).Assembly.GetExportedTypes();

    [Fact]
    public void EveryPublicTypeIsImmutable()
    {
        var wrong = new List<string>();
        foreach (Type type in Types.Where(t => !t.IsEnum && !t.IsInterface))
        {
            wrong.AddRange(type.GetFields(BindingFlags.Public | BindingFlags.Instance).Where(f => !f.IsInitOnly).Select(f => $"{type.Name}.{f.Name}"));
            wrong.AddRange(type.GetProperties(BindingFlags.Public | BindingFlags.Instance)
                .Where(p => p.SetMethod is { IsPublic: true } set && !set.ReturnParameter.GetRequiredCustomModifiers().Contains(typeof(System.Runtime.CompilerServices.IsExternalInit)))
                .Select(p => $"{type.Name}.{p.Name}"));
        }

        Assert.True(wrong.Count == 0, string.Join(", ", wrong));
    }

    [Fact]
    public void EveryPublicDoubleNamesItsUnit()
    {
        var wrong = new List<string>();
        foreach (Type type in Types.Where(t => t.Namespace is not ("SonarGeom.Geometry" or "SonarGeom.Quantities" or "SonarGeom.Geometry.Rays")))
        {
            foreach (PropertyInfo property in type.GetProperties(BindingFlags.Public | BindingFlags.Instance | BindingFlags.DeclaredOnly))
            {
                if (property.PropertyType == typeof(double) && !UnitInTheRow.Contains(type.Name) && !NamesUnit(property.Name))
                {
                    wrong.Add($"{type.Name}.{property.Name}");
                }
            }
        }

        Assert.True(wrong.Count == 0, string.Join(", ", wrong));
    }

    private static bool NamesUnit(string name) =>
        Units.Any(u => name.Contains(u, StringComparison.Ordinal)) || name is "X" or "Y" or "Z" || name.EndsWith('Q');
}
