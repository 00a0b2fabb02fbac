using System.Collections.Immutable;
using SonarGeom.Coverage;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>Pictures of plan and side slices of the detection margin.</summary>
internal static class SliceFigures
{
    private const double ScaleDecibels = 30;
    private const double FarBelowDecibels = 30;
    private const double NearSliceMetres = 0.4;

    /// <summary>Returns the picture of one slice.</summary>
    internal static HeatmapFigure Of(StudyReport report, MarginSlice slice)
    {
        bool isPlan = slice.Plane == SlicePlane.Plan;
        var panel = new HeatmapPanel(new ValueGrid(
            new GridAxis(slice.FirstXMetres, slice.CellMetres, slice.Columns),
            new GridAxis(slice.FirstOtherMetres, slice.CellMetres, slice.Rows),
            [.. slice.MarginDecibels.Select(m => m >= -FarBelowDecibels ? (double)m : double.NaN)]))
        {
            Contours = [new(0, "0 dB", new(Colour.Ink, DashPattern.Full, 3)) { LegendName = "just detected (0 dB)" }],
            Outlines = [BodyMarks.Wearer(report.Posed, slice), .. BodyMarks.Beams(report.Posed, slice)],
            Bands = isPlan ? [] : BodyMarks.Bands(report.Posed, _ => string.Empty),
            Markers = BodyMarks.Sensors(
                report.Posed, p => new(p.X, isPlan ? p.Y : p.Z), p => !isPlan || Math.Abs(p.Z - slice.AtMetres) < NearSliceMetres),
        };
        return new(
            [panel],
            new("Distance ahead", "m"),
            isPlan ? new("Lateral offset, positive left", "m") : new("Height above ground", "m"),
            ColourMapping.Difference(ScaleDecibels, "Detection margin", "dB") with
            {
                Marks = [new(0, "just detected")],
                NoValueLabel = $"nothing, or over {FarBelowDecibels:0} dB too weak",
            })
        {
            Title = isPlan ? $"Plan slice {slice.AtMetres:0.00} m above the ground: {slice.ProbeName}" : $"Side slice {Offset(slice.AtMetres)}: {slice.ProbeName}",
            Finding = Finding(report, slice),
            WidthPixels = 1100,
            Footnotes =
            [
                (isPlan ? "Seen from above. " : "Seen from the wearer's right. ")
                + "Margin of the best sensor at one stride phase: blue is heard, brown is too weak. Nothing: dead zone, behind the sensors, "
                + "outside the window, hidden, or after a floor or limb echo. " + FigureWords.Conditions(report),
            ],
        };
    }

    /// <summary>Says how far ahead the probe is heard in a slice.</summary>
    internal static string Finding(StudyReport report, MarginSlice slice)
    {
        bool isPlan = slice.Plane == SlicePlane.Plan;
        double middle = isPlan ? 0 : report.Posed.BandMiddleMetres(HeightBand.Head);
        double reach = Reach(slice, middle);
        string along = isPlan ? "on the middle line" : $"at head height ({middle:0.00} m)";
        double widest = Enumerable.Range(0, slice.Rows).Select(r => Reach(slice, slice.FirstOtherMetres + (r * slice.CellMetres))).Max();
        return reach <= 0 && widest <= 0
            ? $"{slice.ProbeName} is heard nowhere in this slice."
            : reach <= 0
                ? $"{slice.ProbeName} is not heard {along}; elsewhere in the slice as far as {widest:0.0} m ahead."
                : $"{slice.ProbeName} is heard as far as {Capped(slice, reach)} ahead {along}; the beam edges lie at a constant angle, the 0 dB line where it is really just heard.";
    }

    /// <summary>Returns the largest distance ahead at which the margin is 0 dB or more in the row nearest to a value; 0 if none. [m]</summary>
    internal static double Reach(MarginSlice slice, double otherMetres)
    {
        int row = RowAt(slice, otherMetres);
        for (int c = slice.Columns - 1; c >= 0; c--)
        {
            if (slice.MarginDecibels[(row * slice.Columns) + c] >= 0)
            {
                return slice.FirstXMetres + (c * slice.CellMetres);
            }
        }

        return 0;
    }

    /// <summary>Returns the margin at a place of a slice; null where nothing is heard. [dB]</summary>
    internal static double? MarginAt(MarginSlice slice, double xMetres, double otherMetres)
    {
        int column = Math.Clamp((int)Math.Round((xMetres - slice.FirstXMetres) / slice.CellMetres), 0, slice.Columns - 1);
        float margin = slice.MarginDecibels[(RowAt(slice, otherMetres) * slice.Columns) + column];
        return float.IsFinite(margin) ? margin : null;
    }

    /// <summary>Returns the farthest distance ahead that a slice shows. [m]</summary>
    internal static double FarthestMetres(MarginSlice slice) => slice.FirstXMetres + ((slice.Columns - 1) * slice.CellMetres);

    private static string Capped(MarginSlice slice, double reach) =>
        reach > FarthestMetres(slice) - slice.CellMetres ? $"the edge of the slice, {reach:0.0} m," : $"{reach:0.0} m";

    private static int RowAt(MarginSlice slice, double otherMetres) =>
        Math.Clamp((int)Math.Round((otherMetres - slice.FirstOtherMetres) / slice.CellMetres), 0, slice.Rows - 1);

    private static string Offset(double metres) => Math.Abs(metres) < 0.005 ? "on the middle line" : $"{Math.Abs(metres):0.00} m to the {(metres > 0 ? "left" : "right")}";
}
