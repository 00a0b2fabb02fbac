using SonarGeom.Geometry;

namespace SonarGeom.Obstacles;

public sealed partial record Obstacle
{
    private const double LargestMetres = 200;

    /// <summary>Returns this obstacle after checking every size its kind needs.</summary>
    /// <exception cref="ArgumentException">
    /// A size is missing, zero, negative, not finite or beyond 200 m, or a cap does not fit; the message names the obstacle, the
    /// size, its value and the allowed range.
    /// </exception>
    public Obstacle Validated()
    {
        if (string.IsNullOrWhiteSpace(Id))
        {
            throw new ArgumentException("An obstacle has no name; it needs a short one, unique in its set.");
        }

        if (!Enum.IsDefined(Kind))
        {
            throw new ArgumentException($"Obstacle '{Id}': kind {(int)Kind} is not known.");
        }

        if (!PositionMetres.IsFinite)
        {
            throw new ArgumentException($"Obstacle '{Id}': position is {PositionMetres}; its components must be finite.");
        }

        CheckSizes();
        Within(ReflectionLossDecibels, 0, 100, "reflection loss", "dB");
        Within(EffectiveRoughnessRmsMetres, 0, 0.5, "roughness", "m");
        if (ClosingSpeedMetresPerSecond is double speed)
        {
            Within(speed, 0, 60, "closing speed", "m/s");
        }

        return this;
    }

    private void CheckSizes()
    {
        switch (Kind)
        {
            case ObstacleKind.Pole:
                Positive(DiameterMetres, "diameter");
                Positive(HeightMetres, "height");
                break;
            case ObstacleKind.Bar:
                Positive(DiameterMetres, "diameter");
                Positive(WidthMetres, "width (its length)");
                break;
            case ObstacleKind.Sphere:
                Positive(DiameterMetres, "diameter");
                break;
            case ObstacleKind.Board or ObstacleKind.Sign:
                Positive(WidthMetres, "width");
                Positive(HeightMetres, "height");
                Within(DepthMetres, 0, LargestMetres, "depth", "m");
                Within(DiameterMetres, 0, LargestMetres, "lip diameter", "m");
                break;
            case ObstacleKind.Wall or ObstacleKind.WallFloorCorner or ObstacleKind.KerbUp or ObstacleKind.StepDown:
                Positive(WidthMetres, "width");
                Positive(HeightMetres, "height");
                Within(DepthMetres, 0, LargestMetres, "depth", "m");
                break;
            case ObstacleKind.Box:
                Positive(WidthMetres, "width");
                Positive(HeightMetres, "height");
                Positive(DepthMetres, "depth");
                break;
            case ObstacleKind.Stairs:
                Positive(WidthMetres, "width");
                Positive(HeightMetres, "height (rise of one step)");
                Positive(DepthMetres, "depth (going of one step)");
                Within(StepCount, 1, 200, "number of steps", "");
                break;
            case ObstacleKind.Awning or ObstacleKind.TailGate or ObstacleKind.StairUnderside:
                Positive(WidthMetres, "width");
                Positive(DepthMetres, "depth");
                Within(DiameterMetres, 0, LargestMetres, "lip diameter", "m");
                break;
            case ObstacleKind.Bollard:
                Positive(DiameterMetres, "diameter");
                Positive(HeightMetres, "height");
                CheckCap();
                break;
            case ObstacleKind.Mesh:
                if (Shape is null)
                {
                    throw new ArgumentException($"Obstacle '{Id}' (Mesh) has no mesh; it must have one.");
                }

                Within(Pitch.Degrees, 0, 0, "pitch", "°");
                Within(Roll.Degrees, 0, 0, "roll", "°");
                Within(ReflectionLossDecibels, 0, 0, "reflection loss beside that of its materials", "dB");
                break;
            case ObstacleKind.Foliage:
                CheckFoliage();
                break;
            case ObstacleKind.Chain:
                Positive(DiameterMetres, "diameter");
                Positive(WidthMetres, "width (its span)");
                Within(SagMetres, 0, WidthMetres, "sag", "m");
                break;
        }
    }

    private void CheckCap()
    {
        double radius = 0.5 * DiameterMetres;
        switch (Cap)
        {
            case CapShape.Flat:
                break;
            case CapShape.Domed:
                Positive(CapSizeMetres, "rise of the domed cap");
                Within(CapSizeMetres, 0, Math.Min(radius, HeightMetres), "rise of the domed cap", "m");
                break;
            case CapShape.Chamfered:
                Positive(CapSizeMetres, "rise of the chamfer");
                if (!(CapSizeMetres < Math.Min(radius, HeightMetres)))
                {
                    throw Refused("rise of the chamfer", CapSizeMetres, $"it must be below the radius and the height, {Math.Min(radius, HeightMetres)} m");
                }

                break;
            default:
                throw new ArgumentException($"Obstacle '{Id}': cap {(int)Cap} is not known.");
        }
    }

    private void Positive(double metres, string what)
    {
        if (!(metres > 0 && metres <= LargestMetres))
        {
            throw Refused(what, metres, $"it must be above 0 m and at most {LargestMetres} m");
        }
    }

    private void Within(double value, double low, double high, string what, string unit)
    {
        if (!(value >= low && value <= high))
        {
            throw Refused(what, value, $"it must be from {low} to {high} {unit}".TrimEnd(), unit);
        }
    }

    private ArgumentException Refused(string what, double value, string allowed, string unit = "m") =>
        new($"Obstacle '{Id}' ({Kind}): {what} is {value}{(unit.Length > 0 ? " " + unit : "")}; {allowed}.");
}
