using SonarGeom.Cli.Shell;
using SonarGeom.Files.Faults;
using SonarGeom.Layouts;

namespace SonarGeom.Cli.Commands;

/// <summary>Sensors by name.</summary>
internal static class SensorNames
{
    /// <summary>Returns the index of the sensor that <c>--sensor</c> names.</summary>
    /// <exception cref="UsageException">The layout has none of that name.</exception>
    internal static int IndexOf(string name, SensorLayout layout)
    {
        string[] known = [.. layout.Sensors.Select(s => s.Name)];
        int index = Array.IndexOf(known, name);
        return index >= 0
            ? index
            : throw new UsageException($"--sensor is {Numbers.Shown(name)}, which the layout does not have; {NearestName.Advice(name, known)}");
    }
}
