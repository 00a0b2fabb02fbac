namespace SonarGeom.Rendering.Drawing;

/// <summary>One or more polylines, open or closed, on the page. Filling uses the even-odd rule.</summary>
internal sealed class Outline
{
    private readonly List<double> _xs = [];
    private readonly List<double> _ys = [];
    private readonly List<(int Start, bool Closed)> _parts = [];

    /// <summary>Gets whether there is nothing to draw.</summary>
    public bool IsEmpty => _xs.Count == 0;

    public int PartCount => _parts.Count;

    public int PointCount => _xs.Count;

    public static Outline Rectangle(Box box) => new Outline().AddRectangle(box);

    public static Outline Line(double x1, double y1, double x2, double y2) => new Outline().AddLine(x1, y1, x2, y2);

    public Outline AddRectangle(Box box)
    {
        MoveTo(box.Left, box.Top);
        LineTo(box.Right, box.Top);
        LineTo(box.Right, box.Bottom);
        LineTo(box.Left, box.Bottom);
        Close();
        return this;
    }

    public Outline AddLine(double x1, double y1, double x2, double y2)
    {
        MoveTo(x1, y1);
        LineTo(x2, y2);
        return this;
    }

    public void MoveTo(double x, double y)
    {
        _parts.Add((_xs.Count, false));
        _xs.Add(x);
        _ys.Add(y);
    }

    public void LineTo(double x, double y)
    {
        _xs.Add(x);
        _ys.Add(y);
    }

    public void Close() => _parts[^1] = (_parts[^1].Start, true);

    public (double X, double Y) Point(int index) => (_xs[index], _ys[index]);

    /// <summary>Returns one part: the indices of its first point and one past its last, and whether it is closed.</summary>
    public (int Start, int End, bool Closed) Part(int index)
    {
        (int start, bool closed) = _parts[index];
        int end = index + 1 < _parts.Count ? _parts[index + 1].Start : _xs.Count;
        return (start, end, closed);
    }

    public Box Bounds()
    {
        double left = double.PositiveInfinity;
        double top = double.PositiveInfinity;
        double right = double.NegativeInfinity;
        double bottom = double.NegativeInfinity;
        for (int i = 0; i < _xs.Count; i++)
        {
            left = Math.Min(left, _xs[i]);
            right = Math.Max(right, _xs[i]);
            top = Math.Min(top, _ys[i]);
            bottom = Math.Max(bottom, _ys[i]);
        }

        return new(left, top, right, bottom);
    }
}
