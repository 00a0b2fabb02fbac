using System.Runtime.CompilerServices;

namespace SonarGeom.Geometry.Rays;

/// <summary>A cylinder with flat ends, or with domed ends: a capsule, or a sphere when both ends are the same point.</summary>
/// <remarks>
/// With w from the first end to the origin, d the direction, u the axis, n = d × u and k = w × d: the line passes the axis at
/// |w·n|/|n| and the centre of the first dome at |k|/|d|, that of the second at |k + l n|/|d|. Products of vectors keep these
/// accurate from afar, and each is known after a few steps.
/// </remarks>
internal readonly struct RoundShape
{
    // A ray nearer to the axis direction than this runs along it as far as double precision can tell.
    private const double ParallelSquared = 1e-24;

    // Farther out than this share of the squared radius, rounding does not decide on which side of the surface a point is.
    private const double Outside = 1 + 1e-6;

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
    public double? Intersect(in Ray ray) =>
        FirstFrom(ray.NearMetres, ray.Origin.X, ray.Origin.Y, ray.Origin.Z, ray.UnitDirection.X, ray.UnitDirection.Y, ray.UnitDirection.Z)
            is var first && first <= ray.FarMetres ? first : null;

    /// <summary>Returns the distance to the surface, from a distance on; not a number if there is none. [m]</summary>
    /// <remarks>
    /// A ray that starts outside the rounded shape and does not come nearer to the point of the axis next to its start never meets
    /// the plane between the two. Sensors sit close to limbs, inside the boxes around these: most of their rays end here. What
    /// follows is <see cref="ChordOf"/> number for number, without the rays along and square to the axis.
    /// </remarks>
    [SkipLocalsInit]
    public double FirstFrom(double nearMetres, double ox, double oy, double oz, double dx, double dy, double dz)
    {
        double wx = ox - _end1.X;
        double wy = oy - _end1.Y;
        double wz = oz - _end1.Z;
        double ux = _unit.X;
        double uy = _unit.Y;
        double uz = _unit.Z;
        double length = _length;
        double square = _radius * _radius;
        double height = (wx * ux) + (wy * uy) + (wz * uz);
        double next = double.MinNative(double.MaxNative(height, 0), length);
        double vx = wx - (next * ux);
        double vy = wy - (next * uy);
        double vz = wz - (next * uz);
        if ((vx * dx) + (vy * dy) + (vz * dz) >= 0 & (vx * vx) + (vy * vy) + (vz * vz) > Outside * square & nearMetres >= 0)
        {
            return double.NaN;
        }

        double nx = (dy * uz) - (dz * uy);
        double ny = (dz * ux) - (dx * uz);
        double nz = (dx * uy) - (dy * ux);
        double across = (nx * nx) + (ny * ny) + (nz * nz);
        double speed = (dx * ux) + (dy * uy) + (dz * uz);
        if (!(across >= ParallelSquared & Math.Abs(speed) >= BoxShape.Standstill))
        {
            return ChordOf(new Vec3(ox, oy, oz), new Vec3(dx, dy, dz)).FirstFrom(nearMetres);
        }

        double aside = (wx * nx) + (wy * ny) + (wz * nz);
        double room = (square * across) - (aside * aside);
        if (room < 0)
        {
            return double.NaN;
        }

        double slowness = 1 / across;
        double half = Math.Sqrt(room) * slowness;
        double ahead = (((wy * uz) - (wz * uy)) * nx) + (((wz * ux) - (wx * uz)) * ny) + (((wx * uy) - (wy * ux)) * nz);
        double nearest = -ahead * slowness;
        double pace = 1 / speed;
        double first = -height * pace;
        double second = (length - height) * pace;
        Chord chord = new Chord(nearest - half, nearest + half)
            .And(new Chord(double.MinNative(first, second), double.MaxNative(first, second)));
        if (_hasDomes)
        {
            double directionSquared = (dx * dx) + (dy * dy) + (dz * dz);
            double lineSquare = square * directionSquared;
            double linePace = 1 / directionSquared;
            double along = (wx * dx) + (wy * dy) + (wz * dz);
            double kx = (wy * dz) - (wz * dy);
            double ky = (wz * dx) - (wx * dz);
            double kz = (wx * dy) - (wy * dx);
            chord = chord.Checked().Or(BallOf(lineSquare - ((kx * kx) + (ky * ky) + (kz * kz)), along, linePace));
            kx += length * nx;
            ky += length * ny;
            kz += length * nz;
            chord = chord.Or(BallOf(lineSquare - ((kx * kx) + (ky * ky) + (kz * kz)), along - (length * speed), linePace));
        }

        return chord.FirstFrom(nearMetres);
    }

    /// <summary>Returns the part of a line inside the shape.</summary>
    public Chord ChordOf(Vec3 origin, Vec3 direction)
    {
        Vec3 w = origin - _end1;
        Vec3 n = direction.Cross(_unit);
        double across = n.LengthSquared;
        double aside = w.Dot(n);
        double square = _radius * _radius;
        double room = (square * across) - (aside * aside);
        Chord chord;
        Vec3 fromAxis = w.Cross(_unit);
        if (across >= ParallelSquared)
        {
            if (room < 0)
            {
                return Chord.None;
            }

            double slowness = 1 / across;
            double half = Math.Sqrt(room) * slowness;
            double nearest = -fromAxis.Dot(n) * slowness;
            chord = new Chord(nearest - half, nearest + half);
        }
        else if (fromAxis.LengthSquared <= square)
        {
            chord = Chord.Whole;
        }
        else
        {
            return Chord.None;
        }

        double speed = direction.Dot(_unit);
        chord = chord.And(SlabOf(w.Dot(_unit), speed)).Checked();
        if (!_hasDomes)
        {
            return chord;
        }

        double directionSquared = direction.LengthSquared;
        double pace = 1 / directionSquared;
        Vec3 k = w.Cross(direction);
        double along = w.Dot(direction);
        chord = chord.Or(BallOf((square * directionSquared) - k.LengthSquared, along, pace));
        return chord.Or(BallOf((square * directionSquared) - (k + (_length * n)).LengthSquared, along - (_length * speed), pace));
    }

    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    private static Chord BallOf(double room, double along, double pace)
    {
        // Less than no room makes a chord that enters after it leaves.
        double half = room < 0 ? double.NegativeInfinity : Math.Sqrt(room) * pace;
        double nearest = -along * pace;
        return new Chord(nearest - half, nearest + half);
    }

    private Chord SlabOf(double along, double speed)
    {
        if (Math.Abs(speed) < BoxShape.Standstill)
        {
            return along >= 0 && along <= _length ? Chord.Whole : Chord.None;
        }

        double pace = 1 / speed;
        double first = -along * pace;
        double second = (_length - along) * pace;
        return new Chord(double.MinNative(first, second), double.MaxNative(first, second));
    }

    private double Across(double p, double q) => _radius * Math.Sqrt((p * p) + (q * q));
}
