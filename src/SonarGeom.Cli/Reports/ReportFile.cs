namespace SonarGeom.Cli.Reports;

/// <summary>A file of a report that has been made but not yet written.</summary>
/// <param name="Name">Its name, without a folder.</param>
/// <param name="Bytes">Its content.</param>
internal readonly record struct ReportFile(string Name, byte[] Bytes);
