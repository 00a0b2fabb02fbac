using SonarGeom.Files.Output;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>Writes the pictures, the scene and the report page of the main job.</summary>
internal static class StudyPictures
{
    /// <summary>Writes them into the folder of the run.</summary>
    internal static void Write(StudyReport report, string inputsHash, OutputFolder folder)
    {
    }
}
