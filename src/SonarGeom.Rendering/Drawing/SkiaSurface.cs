using System.Runtime.InteropServices;
using SkiaSharp;
using SonarGeom.Rendering.Colours;

namespace SonarGeom.Rendering.Drawing;

/// <summary>Draws on a Skia canvas: pixels or a PDF page.</summary>
internal sealed class SkiaSurface : DrawingSurface, IDisposable
{
    private readonly SKCanvas _canvas;
    private readonly SKPaint _fill = new() { IsAntialias = true, Style = SKPaintStyle.Fill };
    private readonly SKPaint _stroke = new()
    {
        IsAntialias = true,
        Style = SKPaintStyle.Stroke,
        StrokeCap = SKStrokeCap.Butt,
        StrokeJoin = SKStrokeJoin.Round,
    };

    private readonly Dictionary<TextStyle, SKFont> _fonts = [];
    private readonly List<SKImage> _images = [];

    public SkiaSurface(SKCanvas canvas) => _canvas = canvas;

    public override void Fill(Outline outline, Colour colour)
    {
        if (outline.IsEmpty)
        {
            return;
        }

        _fill.Color = ToSkia(colour);
        using SKPath path = ToSkia(outline);
        _canvas.DrawPath(path, _fill);
    }

    public override void Draw(Outline outline, Stroke stroke)
    {
        if (outline.IsEmpty)
        {
            return;
        }

        using SKPathEffect? dash = Prepare(stroke);
        using SKPath path = ToSkia(outline);
        _canvas.DrawPath(path, _stroke);
        _stroke.PathEffect = null;
    }

    public override void FillCircle(double x, double y, double radius, Colour colour)
    {
        _fill.Color = ToSkia(colour);
        _canvas.DrawCircle((float)x, (float)y, (float)radius, _fill);
    }

    public override void DrawCircle(double x, double y, double radius, Stroke stroke)
    {
        using SKPathEffect? dash = Prepare(stroke);
        _canvas.DrawCircle((float)x, (float)y, (float)radius, _stroke);
        _stroke.PathEffect = null;
    }

    public override void DrawImage(RasterImage image, Box box)
    {
        SKImage picture = ToSkia(image);
        _images.Add(picture);
        _fill.Color = SKColors.Black;
        _canvas.DrawImage(
            picture,
            new SKRect((float)box.Left, (float)box.Top, (float)box.Right, (float)box.Bottom),
            new SKSamplingOptions(SKFilterMode.Nearest),
            _fill);
    }

    public override void PushClip(Box box)
    {
        _canvas.Save();
        _canvas.ClipRect(
            new SKRect((float)box.Left, (float)box.Top, (float)box.Right, (float)box.Bottom),
            SKClipOperation.Intersect,
            true);
    }

    public override void PopClip() => _canvas.Restore();

    public void Dispose()
    {
        _fill.Dispose();
        _stroke.Dispose();
        foreach (SKFont font in _fonts.Values)
        {
            font.Dispose();
        }

        foreach (SKImage image in _images)
        {
            image.Dispose();
        }
    }

    /// <summary>Returns the picture as a Skia image, which the caller disposes.</summary>
    internal static SKImage ToSkia(RasterImage image)
    {
        var info = new SKImageInfo(image.Width, image.Height, SKColorType.Rgba8888, SKAlphaType.Unpremul);
        GCHandle handle = GCHandle.Alloc(image.Rgba, GCHandleType.Pinned);
        try
        {
            return SKImage.FromPixelCopy(info, handle.AddrOfPinnedObject(), info.RowBytes);
        }
        finally
        {
            handle.Free();
        }
    }

    protected override void OnBeginPlacement(double x, double y, double scale)
    {
        _canvas.Save();
        _canvas.Translate((float)x, (float)y);
        _canvas.Scale((float)scale);
    }

    protected override void OnEndPlacement() => _canvas.Restore();

    protected override void SetText(
        string text, double x, double y, TextStyle style, Colour colour, bool isUpward, double halo)
    {
        if (!_fonts.TryGetValue(style, out SKFont? font))
        {
            font = FontFace.Of(style.IsBold).Prepare(style.Size);
            _fonts.Add(style, font);
        }

        _canvas.Save();
        _canvas.Translate((float)x, (float)y);
        if (isUpward)
        {
            _canvas.RotateDegrees(-90);
        }

        if (halo > 0)
        {
            using SKPathEffect? none = Prepare(new(Colour.White, 2 * halo));
            _canvas.DrawText(text, 0, 0, SKTextAlign.Left, font, _stroke);
        }

        _fill.Color = ToSkia(colour);
        _canvas.DrawText(text, 0, 0, SKTextAlign.Left, font, _fill);
        _canvas.Restore();
    }

    private static SKColor ToSkia(Colour c) => new(c.Red, c.Green, c.Blue, c.Alpha);

    private static SKPath ToSkia(Outline outline)
    {
        using var builder = new SKPathBuilder { FillType = SKPathFillType.EvenOdd };
        for (int part = 0; part < outline.PartCount; part++)
        {
            (int start, int end, bool closed) = outline.Part(part);
            for (int i = start; i < end; i++)
            {
                (double x, double y) = outline.Point(i);
                if (i == start)
                {
                    builder.MoveTo((float)x, (float)y);
                }
                else
                {
                    builder.LineTo((float)x, (float)y);
                }
            }

            if (closed)
            {
                builder.Close();
            }
        }

        return builder.Detach();
    }

    private SKPathEffect? Prepare(Stroke stroke)
    {
        _stroke.Color = ToSkia(stroke.Colour);
        _stroke.StrokeWidth = (float)stroke.Width;
        if (stroke.Dash.Length == 0)
        {
            return null;
        }

        SKPathEffect dash = SKPathEffect.CreateDash(Array.ConvertAll(stroke.Dash, d => (float)d), 0);
        _stroke.PathEffect = dash;
        return dash;
    }
}
