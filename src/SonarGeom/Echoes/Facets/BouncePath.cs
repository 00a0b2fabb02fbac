using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes.Facets;

/// <summary>One end of a path: the transmitter or the receiver, or its image in the ground.</summary>
internal readonly struct PathEnd
{
    private readonly Rotation _worldFromSensor;
    private readonly Directivity _beam;
    private readonly GroundMirror? _mirror;

    internal PathEnd(Vec3 position, Rotation worldFromSensor, Directivity beam, GroundMirror? mirror)
    {
        Actual = position;
        _worldFromSensor = worldFromSensor;
        _beam = beam;
        _mirror = mirror;
        Position = mirror is null ? position : Mirrored(position, mirror.HeightMetres);
    }

    /// <summary>Gets where the sound seems to come from or to go to. [m]</summary>
    internal Vec3 Position { get; }

    /// <summary>Gets where the transducer is. [m]</summary>
    internal Vec3 Actual { get; }

    /// <summary>Multiplies amplitudes by the beam towards a point, and by the bounce on the ground if there is one.</summary>
    /// <param name="unitFromEnd">Unit direction from <see cref="Position"/> to the point.</param>
    /// <param name="wavenumbers">Wavenumbers. [rad/m]</param>
    /// <param name="scratch">Room for as many values.</param>
    /// <param name="amplitudes">The amplitudes that are multiplied.</param>
    internal void Apply(Vec3 unitFromEnd, ReadOnlySpan<double> wavenumbers, Span<double> scratch, Span<double> amplitudes)
    {
        Vec3 departing = _mirror is null ? unitFromEnd : new Vec3(unitFromEnd.X, unitFromEnd.Y, -unitFromEnd.Z);
        _beam.Amplitudes(_worldFromSensor.ApplyInverse(departing), wavenumbers, scratch);
        for (int m = 0; m < wavenumbers.Length; m++)
        {
            amplitudes[m] *= scratch[m];
        }

        if (_mirror is not null)
        {
            for (int m = 0; m < wavenumbers.Length; m++)
            {
                amplitudes[m] *= _mirror.CoherentAmplitude(wavenumbers[m], Math.Abs(unitFromEnd.Z));
            }
        }
    }

    /// <summary>Returns whether nothing stands between a point of a surface and the transducer, along the path.</summary>
    internal bool IsVisibleFrom(Vec3 point, IRayScene occluders, double startMetres)
    {
        if (_mirror is null)
        {
            return IsFree(point, Actual, occluders, startMetres, 0.0);
        }

        double above = point.Z - _mirror.HeightMetres;
        double below = _mirror.HeightMetres - Position.Z;
        if (!(above > 0) || !(below > 0))
        {
            return false;
        }

        Vec3 bounce = point + (above / (above + below) * (Position - point));
        return IsFree(point, bounce, occluders, startMetres, startMetres) && IsFree(bounce, Actual, occluders, startMetres, 0.0);
    }

    private static bool IsFree(Vec3 from, Vec3 to, IRayScene occluders, double skipStart, double skipEnd)
    {
        Vec3 along = to - from;
        double length = along.Length;
        return length <= skipStart + skipEnd || !occluders.AnyHit(from, along / length, skipStart, length - skipEnd);
    }

    /// <summary>Unmarks the points of a surface between which and the transducer something stands, along the path.</summary>
    /// <param name="points">The points. [m]</param>
    /// <param name="isVisible">A mark for each; those without are not asked about.</param>
    /// <param name="occluders">What can stand in the way.</param>
    /// <param name="startMetres">Nothing is looked for nearer to a point, and to a bounce on the ground. [m]</param>
    internal void KeepVisible(ReadOnlySpan<Vec3> points, Span<bool> isVisible, IRayScene occluders, double startMetres)
    {
        Span<Vec3> ends = stackalloc Vec3[points.Length];
        if (_mirror is null)
        {
            ends.Fill(Actual);
            KeepFree(points, ends, isVisible, occluders, startMetres, 0.0);
            return;
        }

        for (int i = 0; i < points.Length; i++)
        {
            double above = points[i].Z - _mirror.HeightMetres;
            double below = _mirror.HeightMetres - Position.Z;
            isVisible[i] &= above > 0 && below > 0;
            ends[i] = points[i] + (above / (above + below) * (Position - points[i]));
        }

        KeepFree(points, ends, isVisible, occluders, startMetres, startMetres);
        Span<Vec3> last = stackalloc Vec3[points.Length];
        last.Fill(Actual);
        KeepFree(ends, last, isVisible, occluders, startMetres, 0.0);
    }

    private static void KeepFree(
        ReadOnlySpan<Vec3> from, ReadOnlySpan<Vec3> to, Span<bool> isFree, IRayScene occluders, double skipStart, double skipEnd)
    {
        Span<Ray> rays = stackalloc Ray[from.Length];
        Span<int> numbers = stackalloc int[from.Length];
        Span<bool> hits = stackalloc bool[from.Length];
        int count = 0;
        for (int i = 0; i < from.Length; i++)
        {
            Vec3 along = to[i] - from[i];
            double length = along.Length;
            if (isFree[i] && !(length <= skipStart + skipEnd))
            {
                rays[count] = new Ray(from[i], along / length, skipStart, length - skipEnd);
                numbers[count++] = i;
            }
        }

        occluders.AnyHits(rays[..count], hits);
        for (int i = 0; i < count; i++)
        {
            isFree[numbers[i]] = !hits[i];
        }
    }

    private static Vec3 Mirrored(Vec3 position, double height) => position with { Z = (2.0 * height) - position.Z };
}

/// <summary>A path from the transmitter over a surface to the receiver, with or without bounces on the ground.</summary>
/// <param name="Out">The end at the transmitter.</param>
/// <param name="Back">The end at the receiver.</param>
internal readonly record struct BouncePath(PathEnd Out, PathEnd Back)
{
    /// <summary>Lists the paths that the options ask for.</summary>
    internal static List<BouncePath> All(FacetSensor sensor, GroundMirror? ground, SurfaceIntegralOptions options)
    {
        var paths = new List<BouncePath>(4);
        var transmitter = new PathEnd(sensor.TransmitterMetres, sensor.WorldFromSensor, sensor.Transmit, null);
        var receiver = new PathEnd(sensor.ReceiverMetres, sensor.WorldFromSensor, sensor.Receive, null);
        if (options.WithSingleBounce)
        {
            paths.Add(new BouncePath(transmitter, receiver));
        }

        if (ground is null)
        {
            return paths;
        }

        var transmitterImage = new PathEnd(sensor.TransmitterMetres, sensor.WorldFromSensor, sensor.Transmit, ground);
        var receiverImage = new PathEnd(sensor.ReceiverMetres, sensor.WorldFromSensor, sensor.Receive, ground);
        if (options.WithDoubleBounce)
        {
            paths.Add(new BouncePath(transmitterImage, receiver));
            paths.Add(new BouncePath(transmitter, receiverImage));
        }

        if (options.WithTripleBounce)
        {
            paths.Add(new BouncePath(transmitterImage, receiverImage));
        }

        return paths;
    }
}
