using SonarGeom.Bodies;
using SonarGeom.Files.Bodies;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Bodies;

/// <summary>Wearers for tests, each body built once.</summary>
internal static class Wearers
{
    internal static BodyTables Tables => BodyTableFiles.Shipped;

    internal static WearerSpec Man { get; } = new() { Name = "man", Sex = Sex.Male };

    internal static WearerSpec Woman { get; } = new() { Name = "woman", Sex = Sex.Female };

    private static readonly Lazy<Body> ManBody = new(() => Build(new WearerSpec { Name = "man", Sex = Sex.Male }));
    private static readonly Lazy<Body> WomanBody = new(() => Build(new WearerSpec { Name = "woman", Sex = Sex.Female }));

    internal static Body MedianMan => ManBody.Value;

    internal static Body MedianWoman => WomanBody.Value;

    internal static IReadOnlyDictionary<string, WearerSpec> Varied { get; } = new Dictionary<string, WearerSpec>
    {
        ["median man"] = Man,
        ["median woman"] = Woman,
        ["short woman"] = Woman with { StaturePercentile = 1 },
        ["tall man"] = Man with { StaturePercentile = 99 },
        ["heavy man"] = Man with { MassKilograms = 130 },
        ["thin man"] = Man with { MassKilograms = 56 },
        ["heavy woman"] = Woman with { WaistGirthMetres = 1.15 },
        ["boy of three"] = Man with { AgeYears = 3 },
        ["girl of ten"] = Woman with { AgeYears = 10 },
        ["heavy boy of twelve"] = Man with { AgeYears = 12, MassKilograms = 60 },
        ["youth of seventeen"] = Man with { AgeYears = 17.5 },
        ["stooped elder"] = Woman with { AgeYears = 80, Posture = new Posture(Angle.FromDegrees(35), Angle.FromDegrees(20)) },
        ["head-bowed man"] = Man with { Posture = Posture.HeadBowed(Angle.FromDegrees(40)) },
        ["cane right"] = Woman with { CaneSide = BodySide.Right },
        ["cane left"] = Man with { CaneSide = BodySide.Left },
        ["manual wheelchair"] = Woman with { Wheelchair = WheelchairKind.Manual },
        ["powered wheelchair"] = Man with { Wheelchair = WheelchairKind.Powered, StaturePercentile = 95 },
    };

    internal static Body Build(WearerSpec spec) => Body.Build(spec, Tables);
}
