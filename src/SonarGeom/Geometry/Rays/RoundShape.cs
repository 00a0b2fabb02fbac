namespace SonarGeom.Geometry.Rays;

/// <summary>A cylinder with flat ends, or with domed ends: a capsule, or a sphere when both ends are the same point.</summary>
/// <param name="End1">Centre of the first end. [m]</param>
/// <param name="End2">Centre of the second end. [m]</param>
/// <param name="Radius">Radius. [m]</param>
/// <param name="HasDomes">Whether half spheres cover the ends.</param>
internal readonly record struct RoundShape(Vec3 End1, Vec3 End2, double Radius, bool HasDomes)
{
    public Bounds Bounds
    {
        get
        {
            Vec3 reach = new(Radius, Radius, Radius);
            double lengthSquared = (End2 - End1).LengthSquared;
            if (!HasDomes)
            {
                Vec3 axis = (End2 - End1) / Math.Sqrt(lengthSquared);
                reach = new(Across(axis.Y, axis.Z), Across(axis.X, axis.Z), Across(axis.X, axis.Y));
            }

            return new Bounds(End1 - reach, End1 + reach).With(new Bounds(End2 - reach, End2 + reach));
        }
    }

    /// <summary>Returns the distance to the surface, from outside or from within, or null.</summary>
    public double? Intersect(in Ray ray) => ChordOf(ray).FirstWithin(ray);

    private Chord ChordOf(in Ray ray)
    {
        // Distances are counted from the point of the ray nearest to the middle, where rounding is least.
        Vec3 direction = ray.UnitDirection;
        double directionSquared = direction.LengthSquared;
        Vec3 middle = 0.5 * (End1 + End2);
        double shift = (middle - ray.Origin).Dot(direction) / directionSquared;
        Vec3 start = ray.Origin + (shift * direction);
        Vec3 axis = End2 - End1;
        double length = axis.Length;
        Chord chord = Chord.None;
        if (length > 0)
        {
            Vec3 unit = axis / length;
            chord = TubeOf(start, direction, unit).And(SlabOf(start, direction, unit, length)).Checked();
        }

        if (HasDomes)
        {
            chord = chord.Or(BallOf(start - End1, direction, directionSquared));
            chord = length > 0 ? chord.Or(BallOf(start - End2, direction, directionSquared)) : chord;
        }

        return new Chord(chord.Enter + shift, chord.Leave + shift);
    }

    private Chord BallOf(Vec3 start, Vec3 direction, double directionSquared)
    {
        double nearest = -start.Dot(direction) / directionSquared;
        double room = (Radius * Radius) - (start + (nearest * direction)).LengthSquared;
        if (room < 0)
        {
            return Chord.None;
        }

        double half = Math.Sqrt(room / directionSquared);
        return new Chord(nearest - half, nearest + half);
    }

    private Chord TubeOf(Vec3 start, Vec3 direction, Vec3 unit)
    {
        Vec3 fromAxis = start - End1;
        Vec3 across = direction - (direction.Dot(unit) * unit);
        fromAxis -= fromAxis.Dot(unit) * unit;
        double acrossSquared = across.LengthSquared;
        if (acrossSquared < 1e-24)
        {
            return fromAxis.LengthSquared <= Radius * Radius ? Chord.Whole : Chord.None;
        }

        double nearest = -fromAxis.Dot(across) / acrossSquared;
        double room = (Radius * Radius) - (fromAxis + (nearest * across)).LengthSquared;
        if (room < 0)
        {
            return Chord.None;
        }

        double half = Math.Sqrt(room / acrossSquared);
        return new Chord(nearest - half, nearest + half);
    }

    private Chord SlabOf(Vec3 start, Vec3 direction, Vec3 unit, double length)
    {
        double along = (start - End1).Dot(unit);
        double speed = direction.Dot(unit);
        if (speed == 0)
        {
            return along >= 0 && along <= length ? Chord.Whole : Chord.None;
        }

        double first = -along / speed;
        double second = (length - along) / speed;
        return new Chord(Math.Min(first, second), Math.Max(first, second));
    }

    private double Across(double p, double q) => Radius * Math.Sqrt((p * p) + (q * q));
}
