using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Draws one map into its frame.</summary>
internal sealed class PanelPainter(HeatmapPanel panel, ColourMapping colours, PlotFrame frame)
{
    /// <summary>Gets the ground of cells without a value.</summary>
    public static Colour NoValue { get; } = Colour.FromHex("dedede");

    public PlotFrame Frame => frame;

    public static double BandNameWidth(HeatmapPanel panel) =>
        24 + panel.Bands.Max(b => Math.Max(Typography.StrongLabel.Measure(b.Name), Typography.Label.Measure(b.Detail)));

    public static void AddToLegend(Legend legend, HeatmapPanel panel, ColourMapping colours)
    {
        foreach (MapOutline outline in panel.Outlines)
        {
            legend.AddLine(outline.Name, outline.Style);
        }

        foreach (ContourLevel contour in panel.Contours)
        {
            legend.AddLine(contour.LegendName.Length > 0 ? contour.LegendName : contour.Label, contour.Style);
        }

        foreach (MapRegion region in panel.Regions)
        {
            legend.AddHatch(region.Name, region.Hatch, region.Colour, Colour.White);
        }

        if (panel.Categories is { } layer)
        {
            for (int i = 0; i < layer.Categories.Length; i++)
            {
                CellCategory category = layer.Categories[i];
                if (layer.Cells.Contains(i))
                {
                    legend.AddHatch(category.Name, category.Hatch, category.Colour, Colour.White);
                }
            }
        }

        foreach (MapMarker marker in panel.Markers)
        {
            legend.AddMarker(marker.LegendName, marker.Shape, marker.Colour);
        }

        if (panel.Grid.Values.Any(double.IsNaN))
        {
            legend.Add(colours.NoValueLabel, "no value", (surface, box) =>
            {
                surface.Fill(Outline.Rectangle(box), NoValue);
                surface.Draw(Outline.Rectangle(box), new(Colour.Ink, 1.2));
            });
        }
    }

    public void Paint(DrawingSurface surface, Ticks across, Ticks up, bool showsBandNames)
    {
        surface.Fill(Outline.Rectangle(frame.Box), NoValue);
        surface.PushClip(frame.Box);
        PaintCells(surface);
        PaintCategories(surface);
        PaintRegions(surface);
        PaintBands(surface);
        foreach (ReferenceLine line in panel.ReferenceLines)
        {
            PaintReference(surface, line);
        }

        var labels = new LabelPlacer(frame.Box.Grown(-3));
        var contours = PaintContours(surface);
        foreach (Outline line in contours.SelectMany(c => c.Lines))
        {
            labels.Avoid(line);
        }

        foreach (MapOutline outline in panel.Outlines)
        {
            var path = new Outline();
            foreach (var line in outline.Lines)
            {
                frame.AddPath(path, line.AsSpan(), outline.IsClosed);
            }

            if (outline.HasRim)
            {
                surface.Draw(path, new(Colour.White.WithAlpha(200), outline.Style.WidthPixels + 3));
            }

            surface.Draw(path, outline.Style.ToStroke());
            labels.Avoid(path);
        }

        surface.PopClip();
        frame.DrawBorder(surface);
        PaintMarkers(surface, labels);
        PaintReferenceLabels(surface, labels);
        PaintContourLabels(surface, contours, labels);
        if (showsBandNames)
        {
            PaintBandNames(surface);
        }
    }

    private void PaintCells(DrawingSurface surface)
    {
        ValueGrid grid = panel.Grid;
        int columns = grid.Across.Count;
        int rows = grid.Up.Count;
        double left = frame.X(grid.Across.From);
        double right = frame.X(grid.Across.To);
        double bottom = frame.Y(grid.Up.From);
        double top = frame.Y(grid.Up.To);
        var image = new RasterImage(columns, rows);
        for (int row = 0; row < rows; row++)
        {
            int imageRow = top < bottom ? rows - 1 - row : row;
            for (int column = 0; column < columns; column++)
            {
                double value = grid.At(column, row);
                if (!double.IsNaN(value))
                {
                    image.Set(left < right ? column : columns - 1 - column, imageRow, colours.At(value));
                }
            }
        }

        surface.DrawImage(
            image, new(Math.Min(left, right), Math.Min(top, bottom), Math.Max(left, right), Math.Max(top, bottom)));
    }

    private void PaintCategories(DrawingSurface surface)
    {
        if (panel.Categories is not { } layer)
        {
            return;
        }

        GridAxis across = panel.Grid.Across;
        GridAxis up = panel.Grid.Up;
        if (layer.Cells.Length != panel.Grid.Values.Length)
        {
            throw new ArgumentException(
                $"There are {layer.Cells.Length} cell categories for {panel.Grid.Values.Length} cells.");
        }

        for (int i = 0; i < layer.Categories.Length; i++)
        {
            int wanted = i;
            var region = new Outline();
            foreach (var loop in RegionTracer.Trace(
                across.Count, up.Count, (c, r) => layer.Cells[(r * across.Count) + c] == wanted))
            {
                for (int k = 0; k < loop.Count; k++)
                {
                    double x = frame.X(across.From + (loop[k].Column * across.Step));
                    double y = frame.Y(up.From + (loop[k].Row * up.Step));
                    if (k == 0)
                    {
                        region.MoveTo(x, y);
                    }
                    else
                    {
                        region.LineTo(x, y);
                    }
                }

                region.Close();
            }

            CellCategory category = layer.Categories[i];
            Hatching.Draw(surface, region, category.Hatch, category.Colour);
            surface.Draw(region, new(Colour.White.WithAlpha(190), 3.5));
            surface.Draw(region, new(category.Colour, 1.6));
        }
    }

    private void PaintRegions(DrawingSurface surface)
    {
        foreach (MapRegion region in panel.Regions)
        {
            var path = new Outline();
            foreach (var polygon in region.Polygons)
            {
                frame.AddPath(path, polygon.AsSpan(), true);
            }

            Hatching.Draw(surface, path, region.Hatch, region.Colour);
            surface.Draw(path, new(region.Colour, 1.5));
        }
    }

    private void PaintBands(DrawingSurface surface)
    {
        var lines = new Outline();
        foreach (double edge in panel.Bands.SelectMany(b => (double[])[b.From, b.To]).Distinct())
        {
            if (edge > frame.FromY && edge < frame.ToY)
            {
                lines.AddLine(frame.Box.Left, frame.Y(edge), frame.Box.Right, frame.Y(edge));
            }
        }

        surface.Draw(lines, new(Colour.White.WithAlpha(190), 3.5));
        surface.Draw(lines, new(Colour.Grey, 1.5, [7, 5]));
    }

    private void PaintReference(DrawingSurface surface, ReferenceLine line)
    {
        Outline path = line.IsUpright
            ? Outline.Line(frame.X(line.Value), frame.Box.Top, frame.X(line.Value), frame.Box.Bottom)
            : Outline.Line(frame.Box.Left, frame.Y(line.Value), frame.Box.Right, frame.Y(line.Value));
        surface.Draw(path, new(Colour.White.WithAlpha(200), line.Style.WidthPixels + 3));
        surface.Draw(path, line.Style.ToStroke());
    }

    private List<(ContourLevel Level, List<Outline> Lines)> PaintContours(DrawingSurface surface)
    {
        var drawn = new List<(ContourLevel Level, List<Outline> Lines)>();
        foreach (ContourLevel contour in panel.Contours)
        {
            var all = new Outline();
            var lines = new List<Outline>();
            foreach (ContourLine line in ContourTracer.Trace(panel.Grid, contour.Level))
            {
                frame.AddPath(all, line.Points.AsSpan(), line.IsClosed);
                lines.Add(frame.Path(line.Points.AsSpan(), line.IsClosed));
            }

            surface.Draw(all, new(Colour.White.WithAlpha(210), contour.Style.WidthPixels + 3));
            surface.Draw(all, contour.Style.ToStroke());
            drawn.Add((contour, lines));
        }

        return drawn;
    }

    private static void PaintContourLabels(
        DrawingSurface surface, List<(ContourLevel Level, List<Outline> Lines)> contours, LabelPlacer labels)
    {
        TextStyle style = Typography.StrongLabel;
        foreach ((ContourLevel contour, List<Outline> lines) in contours)
        {
            if (contour.Label.Length == 0)
            {
                continue;
            }

            // One label on the longest line where there is room; the legend names the line in any case.
            double width = style.Measure(contour.Label) + 6;
            foreach (Outline line in lines.OrderByDescending(l => l.PointCount).Take(2))
            {
                Box bounds = line.Bounds();
                if (bounds.Width + bounds.Height < 1.5 * width)
                {
                    continue;
                }

                for (int i = 0; i < 9; i++)
                {
                    // From the middle of the line outwards.
                    int step = ((i + 1) / 2) * ((i & 1) == 0 ? 1 : -1);
                    int index = Math.Clamp((int)(line.PointCount * (0.5 + (0.1 * step))), 0, line.PointCount - 1);
                    (double x, double y) = line.Point(index);
                    var box = Box.FromSize(x - (0.5 * width), y - (0.5 * style.Size), width, style.Size);
                    if (labels.IsFree(box))
                    {
                        labels.Take(box);
                        surface.Text(
                            contour.Label, x, y + (0.36 * style.Size), style, contour.Style.Colour, TextAnchor.Middle, halo: 3.5);
                        break;
                    }
                }
            }
        }
    }

    private void PaintMarkers(DrawingSurface surface, LabelPlacer labels)
    {
        const double radius = 7;
        foreach (MapMarker marker in panel.Markers)
        {
            double x = frame.X(marker.At.X);
            double y = frame.Y(marker.At.Y);
            if (frame.Box.Contains(x, y))
            {
                labels.Take(Box.FromSize(x - radius - 2, y - radius - 2, (2 * radius) + 4, (2 * radius) + 4));
            }
        }

        TextStyle style = Typography.StrongLabel;
        foreach (MapMarker marker in panel.Markers)
        {
            double x = frame.X(marker.At.X);
            double y = frame.Y(marker.At.Y);
            if (!frame.Box.Contains(x, y))
            {
                continue;
            }

            if (marker.Label.Length > 0)
            {
                double width = style.Measure(marker.Label) + 4;
                (Box box, bool isFar) = labels.Beside(x, y, width, style.Size + 4, radius + 4)
                    ?? (Box.FromSize(x + radius + 4, y - (0.5 * style.Size), width, style.Size + 4), false);
                if (isFar)
                {
                    double nearX = Math.Clamp(x, box.Left, box.Right);
                    double nearY = Math.Clamp(y, box.Top, box.Bottom);
                    surface.Draw(Outline.Line(x, y, nearX, nearY), new(Colour.White, 4));
                    surface.Draw(Outline.Line(x, y, nearX, nearY), new(marker.Colour, 1.5));
                }

                surface.Text(
                    marker.Label, box.Left + 2, box.CentreY + (0.36 * style.Size), style, marker.Colour, halo: 3.5);
            }

            Markers.Draw(surface, marker.Shape, x, y, radius, marker.Colour);
        }
    }

    private void PaintReferenceLabels(DrawingSurface surface, LabelPlacer labels)
    {
        TextStyle style = Typography.Label;
        foreach (ReferenceLine line in panel.ReferenceLines)
        {
            if (line.Label.Length == 0)
            {
                continue;
            }

            double width = style.Measure(line.Label) + 4;
            double height = style.Size + 4;
            for (int i = 0; i < 10; i++)
            {
                Box box = line.IsUpright
                    ? Box.FromSize(frame.X(line.Value) + 5, frame.Box.Top + 6 + (i * (height + 2)), width, height)
                    : Box.FromSize(frame.Box.Right - width - 6 - (i * 40), frame.Y(line.Value) - height - 2, width, height);
                if (line.IsUpright && box.Right > frame.Box.Right - 3)
                {
                    box = Box.FromSize(frame.X(line.Value) - 5 - width, box.Top, width, height);
                }

                if (labels.IsFree(box))
                {
                    labels.Take(box);
                    surface.Text(line.Label, box.Left + 2, box.CentreY + (0.36 * style.Size), style, line.Style.Colour, halo: 3.5);
                    break;
                }
            }
        }
    }

    private void PaintBandNames(DrawingSurface surface)
    {
        MapBand[] bands = [.. panel.Bands.Where(b => b.To > frame.FromY && b.From < frame.ToY)];
        double[] wanted = new double[bands.Length];
        double[] sizes = new double[bands.Length];
        for (int i = 0; i < bands.Length; i++)
        {
            double low = frame.Y(Math.Clamp(bands[i].From, frame.FromY, frame.ToY));
            double high = frame.Y(Math.Clamp(bands[i].To, frame.FromY, frame.ToY));
            wanted[i] = 0.5 * (low + high);
            sizes[i] = bands[i].Detail.Length > 0 ? 2 * Typography.Label.LineHeight : Typography.Label.LineHeight;
            double x = frame.Box.Right;
            var bracket = new Outline();
            bracket.AddLine(x, low, x + 10, low);
            bracket.AddLine(x, high, x + 10, high);
            surface.Draw(bracket, new(Colour.Grey, 1.5));
        }

        double[] at = LabelPlacer.Spread(wanted, sizes, frame.Box.Top, frame.Box.Bottom);
        for (int i = 0; i < bands.Length; i++)
        {
            double x = frame.Box.Right + 16;
            double baseline = at[i] - (0.5 * sizes[i]) + Typography.StrongLabel.Ascent + 2;
            if (Math.Abs(at[i] - wanted[i]) > 8)
            {
                surface.Draw(Outline.Line(frame.Box.Right + 3, wanted[i], x - 3, at[i]), new(Colour.Grey, 1.2));
            }

            surface.Text(bands[i].Name, x, baseline, Typography.StrongLabel, Colour.Ink);
            surface.Text(bands[i].Detail, x, baseline + Typography.Label.LineHeight, Typography.Label, Colour.Ink);
        }
    }
}
