namespace SonarGeom.Rendering.Drawing;

/// <summary>An upright rectangle on the page, in pixels, y down.</summary>
internal readonly record struct Box(double Left, double Top, double Right, double Bottom)
{
    public double Width => Right - Left;

    public double Height => Bottom - Top;

    public double CentreX => 0.5 * (Left + Right);

    public double CentreY => 0.5 * (Top + Bottom);

    public static Box FromSize(double left, double top, double width, double height) =>
        new(left, top, left + width, top + height);

    public Box Grown(double by) => new(Left - by, Top - by, Right + by, Bottom + by);

    public bool Overlaps(Box other) =>
        Left < other.Right && other.Left < Right && Top < other.Bottom && other.Top < Bottom;

    public bool Contains(Box other) =>
        other.Left >= Left && other.Right <= Right && other.Top >= Top && other.Bottom <= Bottom;

    public bool Contains(double x, double y) => x >= Left && x <= Right && y >= Top && y <= Bottom;
}
