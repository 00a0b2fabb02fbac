using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Trials;

/// <summary>The nearest surface of an obstacle, seen along a stretch of path: a grid of cells, from which follows where a wearer who
/// walks at some place beside the line first touches it.</summary>
internal sealed class TouchFront
{
    internal const double CellMetres = 0.01;
    private const int HalfColumns = 150;
    private const int Rows = 240;

    // What is thinner than a cell could slip between the middles of two; taken a little thicker it errs on the side of a collision.
    private const double ThinnestMetres = 0.012;
    private const int ToeRows = 12;

    // Distance along the stretch; +∞ where there is nothing. Column 0 is the rightmost.
    private readonly double[] _front;
    private readonly int _firstColumn;
    private readonly int _lastColumn;
    private readonly int _lastRow;

    private TouchFront(double[] front)
    {
        _front = front;
        _firstColumn = 2 * HalfColumns;
        _lastColumn = -1;
        _lastRow = -1;
        for (int i = 0; i < front.Length; i++)
        {
            if (double.IsFinite(front[i]))
            {
                _firstColumn = Math.Min(_firstColumn, i % (2 * HalfColumns));
                _lastColumn = Math.Max(_lastColumn, i % (2 * HalfColumns));
                _lastRow = i / (2 * HalfColumns);
                NearestMetres = Math.Min(NearestMetres, front[i]);
                FarthestMetres = Math.Max(FarthestMetres, front[i]);
            }
        }
    }

    /// <summary>Gets the nearest surface, along the stretch; infinite when the obstacle is nowhere near it. [m]</summary>
    internal double NearestMetres { get; } = double.PositiveInfinity;

    /// <summary>Gets the farthest of the surfaces that face the walker. [m]</summary>
    internal double FarthestMetres { get; } = double.NegativeInfinity;

    internal bool IsEmpty => _lastRow < 0;

    /// <summary>Draws the front of an obstacle in the frame of a stretch.</summary>
    internal static TouchFront Of(Obstacle obstacle, RigidTransform worldFromStretch)
    {
        Obstacle own = Thickened(obstacle) with
        {
            PositionMetres = worldFromStretch.Inverse.ApplyToPoint(obstacle.PositionMetres),
            Yaw = obstacle.Yaw - Angle.FromRadians(Math.Atan2(worldFromStretch.Rotation.AxisX.Y, worldFromStretch.Rotation.AxisX.X)),
        };
        var ahead = new double[2 * HalfColumns * Rows];
        Array.Fill(ahead, double.NegativeInfinity);
        if (own.Kind == ObstacleKind.StepDown)
        {
            DrawLip(own, ahead);
        }
        else
        {
            // The raster keeps the foremost point: turned about, the nearest surface is the foremost.
            var about = new RigidTransform(new Rotation(-Vec3.UnitX, -Vec3.UnitY, Vec3.UnitZ), Vec3.Zero);
            new SilhouetteRaster(CellMetres, HalfColumns, Rows, ahead).Add(own.Mesh().Transformed(about));
        }

        var front = new double[ahead.Length];
        for (int row = 0; row < Rows; row++)
        {
            for (int column = 0; column < 2 * HalfColumns; column++)
            {
                int turned = (row * 2 * HalfColumns) + (2 * HalfColumns) - 1 - column;
                front[(row * 2 * HalfColumns) + column] = -ahead[turned];
            }
        }

        return new TouchFront(front);
    }

    /// <summary>Returns where the wearer's origin is when the body touches, and the middle and half the width of what it meets.</summary>
    /// <param name="body">The swept silhouette, in cells of the same size.</param>
    /// <param name="shift">How many cells to the left of the line the wearer walks.</param>
    internal Touch At(Silhouette body, int shift)
    {
        int half = body.Columns / 2;
        int first = Math.Max(0, _firstColumn - HalfColumns - shift + half);
        int last = Math.Min(body.Columns - 1, _lastColumn - HalfColumns - shift + half);
        int rows = Math.Min(_lastRow, body.Rows - 1);
        double along = double.PositiveInfinity, right = double.PositiveInfinity, left = double.NegativeInfinity;
        for (int row = 0; row <= rows; row++)
        {
            for (int column = first; column <= last; column++)
            {
                double front = _front[(row * 2 * HalfColumns) + column - half + shift + HalfColumns];
                if (front < double.PositiveInfinity && body.ForemostOfCellMetres(column, row) is { } foremost)
                {
                    along = Math.Min(along, front - foremost);
                    right = Math.Min(right, body.ColumnMetres(column));
                    left = Math.Max(left, body.ColumnMetres(column));
                }
            }
        }

        return new Touch(along, 0.5 * (right + left), 0.5 * (left - right));
    }

    // A step down is reached by the toes: its lip stands for a low wall of toe height.
    private static void DrawLip(Obstacle step, double[] ahead)
    {
        Vec3 a = step.WorldFromObstacle.ApplyToPoint(new Vec3(0, -0.5 * step.WidthMetres, 0));
        Vec3 b = step.WorldFromObstacle.ApplyToPoint(new Vec3(0, 0.5 * step.WidthMetres, 0));
        (Vec3 right, Vec3 left) = a.Y <= b.Y ? (a, b) : (b, a);
        for (int column = 0; column < 2 * HalfColumns; column++)
        {
            double y = (column - HalfColumns + 0.5) * CellMetres;
            if (y < right.Y || y > left.Y || left.Y - right.Y < 1e-9)
            {
                continue;
            }

            double x = right.X + ((left.X - right.X) * (y - right.Y) / (left.Y - right.Y));
            for (int row = 0; row < ToeRows; row++)
            {
                ahead[(row * 2 * HalfColumns) + (2 * HalfColumns) - 1 - column] = -x;
            }
        }
    }

    private static Obstacle Thickened(Obstacle obstacle)
    {
        return obstacle with
        {
            DiameterMetres = AtLeast(obstacle.DiameterMetres),
            WidthMetres = AtLeast(obstacle.WidthMetres),
            HeightMetres = AtLeast(obstacle.HeightMetres),
            DepthMetres = AtLeast(obstacle.DepthMetres),
        };

        static double AtLeast(double side) => side > 0 ? Math.Max(side, ThinnestMetres) : side;
    }
}
