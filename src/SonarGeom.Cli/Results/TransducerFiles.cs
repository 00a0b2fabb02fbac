using SonarGeom.Cli.Reports;
using SonarGeom.Echoes;
using SonarGeom.Files.Output;

namespace SonarGeom.Cli.Results;

/// <summary>Writes the beam of a transducer.</summary>
internal static class TransducerFiles
{
    /// <summary>Writes the table and the polar plot.</summary>
    internal static void Write(PreparedTransducer prepared, OutputFolder folder)
    {
        string name = FileNames.Of(prepared.Transducer.Name);
        using (Stream stream = folder.Create($"beam-{name}.csv"))
        {
            TransducerTables.Beam.WriteCsv(stream, TransducerTables.BeamRows(prepared));
        }

        FigureFiles.Write(folder, $"beam-{name}", CurveFigures.Beam(prepared.Transducer, prepared.Medium.Air, prepared.Medium.Model));
    }
}
