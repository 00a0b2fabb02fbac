using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Draws levels against direction with rings of equal level.</summary>
internal sealed class PolarPainter : FigurePainter
{
    private const double LargestRadius = 470;
    private const double AngleRoom = 38;

    private readonly PolarFigure _figure;
    private readonly LineStyle[] _styles;
    private readonly Legend _legend = new();
    private readonly double _radius;
    private readonly double _centreX;
    private readonly double _centreY;
    private readonly double _plotHeight;

    public PolarPainter(PolarFigure figure)
        : base(figure)
    {
        _figure = figure;
        _styles = [.. figure.Series.Select((s, i) => s.Style ?? LineStyle.At(i))];
        for (int i = 0; i < figure.Series.Length; i++)
        {
            _legend.AddLine(figure.Series[i].Name, _styles[i]);
        }

        _legend.Arrange(ContentWidth);
        double room = (0.5 * ContentWidth) - 80;
        _radius = Math.Min(figure.IsFullCircle ? 400 : LargestRadius, room);
        _centreX = 0.5 * Width;
        _centreY = ContentTop + AngleRoom + _radius;
        _plotHeight = AngleRoom + _radius + (figure.IsFullCircle ? _radius + AngleRoom : 46);
    }

    protected override double ContentHeight => _plotHeight + (_legend.IsEmpty ? 0 : 16 + _legend.Height);

    protected override void PaintContent(DrawingSurface surface)
    {
        surface.BeginGroup("plot");
        int textsBefore = surface.Texts.Count;
        PaintRings(surface);
        PaintSpokes(surface);
        var curves = new List<Outline>();
        for (int i = 0; i < _figure.Series.Length; i++)
        {
            var path = new Outline();
            bool isDown = false;
            foreach (PolarPoint p in _figure.Series[i].Points)
            {
                if (double.IsNaN(p.LevelDecibels))
                {
                    isDown = false;
                    continue;
                }

                (double x, double y) = At(p.Direction.Radians, p.LevelDecibels);
                if (isDown)
                {
                    path.LineTo(x, y);
                }
                else
                {
                    path.MoveTo(x, y);
                    isDown = true;
                }
            }

            surface.Draw(path, _styles[i].ToStroke());
            curves.Add(path);
        }

        PaintRingNames(surface);
        PaintMarks(surface, curves, textsBefore);
        surface.EndGroup();
        _legend.Paint(surface, Margin, ContentTop + _plotHeight + 16);
    }

    private double RadiusOf(double levelDecibels) =>
        _radius * Math.Clamp(1 - (levelDecibels / _figure.FloorDecibels), 0, 1.02);

    private (double X, double Y) At(double angleRadians, double levelDecibels)
    {
        double r = RadiusOf(levelDecibels);
        return (_centreX - (r * Math.Sin(angleRadians)), _centreY - (r * Math.Cos(angleRadians)));
    }

    private void PaintRings(DrawingSurface surface)
    {
        double half = _figure.IsFullCircle ? Math.PI : 0.5 * Math.PI;
        for (double level = 0; level > _figure.FloorDecibels + 1e-9; level -= _figure.RingStepDecibels)
        {
            var ring = new Outline();
            const int pieces = 120;
            for (int i = 0; i <= pieces; i++)
            {
                (double x, double y) = At(-half + (2 * half * i / pieces), level);
                if (i == 0)
                {
                    ring.MoveTo(x, y);
                }
                else
                {
                    ring.LineTo(x, y);
                }
            }

            surface.Draw(ring, new(level == 0 ? Colour.Ink : Colour.GridGrey, level == 0 ? 1.6 : 1.4));
        }
    }

    private void PaintSpokes(DrawingSurface surface)
    {
        int last = _figure.IsFullCircle ? 165 : 90;
        int first = _figure.IsFullCircle ? -180 : -90;
        var spokes = new Outline();
        TextStyle style = Typography.Tick;
        for (int degrees = first; degrees <= last; degrees += 15)
        {
            double angle = degrees * Math.PI / 180;
            (double x, double y) = At(angle, 0);
            spokes.AddLine(_centreX, _centreY, x, y);
            string text = Ticks.Write(degrees, 0) + "°";
            double r = _radius + 12 + (0.5 * style.Size) + (Math.Abs(Math.Sin(angle)) * 0.32 * style.Measure(text));
            surface.Text(
                text,
                _centreX - (r * Math.Sin(angle)),
                _centreY - (r * Math.Cos(angle)) + (0.36 * style.Size),
                style,
                Colour.Ink,
                TextAnchor.Middle);
        }

        surface.Draw(spokes, new(Colour.GridGrey, 1.2));
    }

    private void PaintRingNames(DrawingSurface surface)
    {
        // As many rings lie between two named ones as their names need room for.
        TextStyle style = Typography.Tick;
        double pitch = _radius * _figure.RingStepDecibels / -_figure.FloorDecibels;
        double need = _figure.IsFullCircle ? style.Size + 6 : style.Measure(Ticks.Write(_figure.FloorDecibels, 0)) + 14;
        int stride = Math.Max(1, (int)Math.Ceiling(need / pitch));
        double outer = _radius - (_figure.IsFullCircle ? 0 : style.Measure("0 dB") + 16);
        for (int ring = 0; ring * _figure.RingStepDecibels < -_figure.FloorDecibels - 1e-9; ring += stride)
        {
            double level = -ring * _figure.RingStepDecibels;
            double r = RadiusOf(level);
            string text = ring == 0 ? "0 dB" : Ticks.Write(level, level == Math.Round(level) ? 0 : 1);
            double half = 0.5 * style.Measure(text);
            if (_figure.IsFullCircle)
            {
                surface.Text(text, _centreX, _centreY + r + (0.36 * style.Size) - 12, style, Colour.Ink, TextAnchor.Middle, halo: 3);
                continue;
            }

            double y = _centreY + 12 + style.Ascent;
            if (ring == 0)
            {
                surface.Text(text, _centreX + r - 8, y, style, Colour.Ink, TextAnchor.End, halo: 3);
            }
            else if (r + half <= outer && r - half > 6)
            {
                surface.Text(text, _centreX + r, y, style, Colour.Ink, TextAnchor.Middle, halo: 3);
                surface.Text(text, _centreX - r, y, style, Colour.Ink, TextAnchor.Middle, halo: 3);
            }
        }
    }

    private void PaintMarks(DrawingSurface surface, List<Outline> curves, int textsBefore)
    {
        var bounds = new Box(Margin, ContentTop, Width - Margin, _centreY + (_figure.IsFullCircle ? _radius : 0));
        var labels = new LabelPlacer(bounds);
        foreach (DrawingSurface.PlacedText text in surface.Texts.Skip(textsBefore))
        {
            labels.Take(text.Box);
        }

        foreach (Outline curve in curves)
        {
            labels.Avoid(curve);
        }

        foreach (PolarMark mark in _figure.Marks)
        {
            (double x, double y) = At(mark.Direction.Radians, mark.LevelDecibels);
            labels.Take(Box.FromSize(x - 9, y - 9, 18, 18));
        }

        TextStyle style = Typography.StrongLabel;
        foreach (PolarMark mark in _figure.Marks)
        {
            (double x, double y) = At(mark.Direction.Radians, mark.LevelDecibels);
            surface.Draw(Outline.Line(_centreX, _centreY, x, y), new(Colour.Ink, 1.6, [6, 4]));
            double width = style.Measure(mark.Label) + 4;
            if (labels.Beside(x, y, width, style.Size + 4, 14) is { } place)
            {
                if (place.IsFar)
                {
                    surface.Draw(
                        Outline.Line(
                            x,
                            y,
                            Math.Clamp(x, place.Box.Left, place.Box.Right),
                            Math.Clamp(y, place.Box.Top, place.Box.Bottom)),
                        new(Colour.Ink, 1.4));
                }

                surface.Text(
                    mark.Label, place.Box.Left + 2, place.Box.CentreY + (0.36 * style.Size), style, Colour.Ink, halo: 3.5);
            }

            Markers.Draw(surface, MarkerShape.Ring, x, y, 8, Colour.Ink);
        }
    }
}
