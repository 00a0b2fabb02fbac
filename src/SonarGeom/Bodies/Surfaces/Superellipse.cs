namespace SonarGeom.Bodies.Surfaces;

/// <summary>The curve |x/a|ⁿ + |y/b|ⁿ = 1: an ellipse at n = 2, squarer above.</summary>
internal static class Superellipse
{
    private const int PerimeterSteps = 64;

    /// <summary>Returns the point at a parameter angle, as shares of the half axes.</summary>
    internal static (double Front, double Left) Unit(double cosine, double sine, double exponent)
    {
        double power = 2 / exponent;
        return (Math.CopySign(Math.Pow(Math.Abs(cosine), power), cosine), Math.CopySign(Math.Pow(Math.Abs(sine), power), sine));
    }

    /// <summary>Returns the perimeter. [m]</summary>
    internal static double Perimeter(double halfDepth, double halfBreadth, double exponent)
    {
        double quarter = 0;
        (double Front, double Left) last = (1, 0);
        for (int i = 1; i <= PerimeterSteps; i++)
        {
            (double s, double c) = Math.SinCos(0.5 * Math.PI * i / PerimeterSteps);
            (double Front, double Left) next = Unit(i == PerimeterSteps ? 0 : c, s, exponent);
            double dx = halfDepth * (next.Front - last.Front);
            double dy = halfBreadth * (next.Left - last.Left);
            quarter += Math.Sqrt((dx * dx) + (dy * dy));
            last = next;
        }

        return 4 * quarter;
    }

    /// <summary>Returns the depth that, with a breadth, gives a girth; kept between 0.4 and 1.3 of the breadth. [m]</summary>
    internal static double DepthFrom(double girth, double breadth, double exponent)
    {
        double low = 0.4 * breadth;
        double high = 1.3 * breadth;
        for (int i = 0; i < 50; i++)
        {
            double middle = 0.5 * (low + high);
            if (Perimeter(middle / 2, breadth / 2, exponent) < girth)
            {
                low = middle;
            }
            else
            {
                high = middle;
            }
        }

        return 0.5 * (low + high);
    }
}
