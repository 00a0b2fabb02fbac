using System.Runtime.CompilerServices;

namespace SonarGeom.Geometry.Rays;

/// <summary>A cylinder with flat ends, or with domed ends: a capsule, or a sphere when both ends are the same point.</summary>
internal readonly struct RoundShape
{
    // A ray nearer to the axis direction than this runs along it as far as double precision can tell.
    private const double ParallelSquared = 1e-24;

    private readonly Vec3 _end1;
    private readonly Vec3 _unit;
    private readonly double _length;
    private readonly double _radius;
    private readonly bool _hasDomes;

    /// <summary>Initialises the shape.</summary>
    /// <param name="end1">Centre of the first end. [m]</param>
    /// <param name="end2">Centre of the second end. [m]</param>
    /// <param name="radiusMetres">Radius. [m]</param>
    /// <param name="hasDomes">Whether half spheres cover the ends.</param>
    public RoundShape(Vec3 end1, Vec3 end2, double radiusMetres, bool hasDomes)
    {
        _end1 = end1;
        _length = (end2 - end1).Length;
        _unit = _length > 0 ? (end2 - end1) / _length : Vec3.UnitZ;
        _radius = radiusMetres;
        _hasDomes = hasDomes;
    }

    /// <summary>Gets the box around the shape.</summary>
    public Bounds Bounds
    {
        get
        {
            Vec3 end2 = _end1 + (_length * _unit);
            Vec3 reach = _hasDomes
                ? new(_radius, _radius, _radius)
                : new(Across(_unit.Y, _unit.Z), Across(_unit.X, _unit.Z), Across(_unit.X, _unit.Y));
            return new Bounds(_end1 - reach, _end1 + reach).With(new Bounds(end2 - reach, end2 + reach));
        }
    }

    /// <summary>Returns the distance to the surface, from outside or from within, or null. [m]</summary>
    public double? Intersect(in Ray ray)
    {
        // Distances are counted from the point of the ray nearest to the middle, where rounding is least.
        Vec3 direction = ray.UnitDirection;
        double directionSquared = direction.LengthSquared;
        Vec3 fromEnd1 = ray.Origin - _end1;
        double shift = ((0.5 * _length * _unit.Dot(direction)) - fromEnd1.Dot(direction)) / directionSquared;
        Vec3 start = fromEnd1 + (shift * direction);

        double along = start.Dot(_unit);
        double speed = direction.Dot(_unit);
        Chord tube = TubeOf(start - (along * _unit), direction - (speed * _unit));
        if (!(tube.Enter <= tube.Leave))
        {
            return null;
        }

        Chord chord = tube.And(SlabOf(along, speed)).Checked();
        if (_hasDomes)
        {
            chord = chord.Or(BallOf(start, direction, directionSquared));
            chord = chord.Or(BallOf(start - (_length * _unit), direction, directionSquared));
        }

        return new Chord(chord.Enter + shift, chord.Leave + shift).FirstWithin(ray);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Chord BallOf(Vec3 start, Vec3 direction, double directionSquared)
    {
        double nearest = -start.Dot(direction) / directionSquared;
        double room = (_radius * _radius) - (start + (nearest * direction)).LengthSquared;
        if (room < 0)
        {
            return Chord.None;
        }

        double half = Math.Sqrt(room / directionSquared);
        return new Chord(nearest - half, nearest + half);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Chord TubeOf(Vec3 fromAxis, Vec3 across)
    {
        double acrossSquared = across.LengthSquared;
        if (acrossSquared < ParallelSquared)
        {
            return fromAxis.LengthSquared <= _radius * _radius ? Chord.Whole : Chord.None;
        }

        double nearest = -fromAxis.Dot(across) / acrossSquared;
        double room = (_radius * _radius) - (fromAxis + (nearest * across)).LengthSquared;
        if (room < 0)
        {
            return Chord.None;
        }

        double half = Math.Sqrt(room / acrossSquared);
        return new Chord(nearest - half, nearest + half);
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private Chord SlabOf(double along, double speed)
    {
        if (speed == 0)
        {
            return along >= 0 && along <= _length ? Chord.Whole : Chord.None;
        }

        double first = -along / speed;
        double second = (_length - along) / speed;
        return new Chord(Math.Min(first, second), Math.Max(first, second));
    }

    private double Across(double p, double q) => _radius * Math.Sqrt((p * p) + (q * q));
}
