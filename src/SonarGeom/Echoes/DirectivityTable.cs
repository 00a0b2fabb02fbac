using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes;

/// <summary>
/// A directivity at eight frequencies, tabulated over direction cosines and interpolated by cubics: for patterns that are the
/// same all round, over the cosine off boresight; else over the two sideways cosines of one quadrant (every pattern is mirror
/// symmetric). For a piston the interpolation errs by less than 2e-6 up to ka = 12 and 1e-4 up to ka = 30.
/// </summary>
internal sealed class DirectivityTable
{
    private const int Lanes = 8;
    private const int AxialIntervals = 384;
    private const int SquareIntervals = 96;
    private const double JustInFront = 1e-9;

    // Pinned, so that rows of eight start on a cache line and stay there.
    private readonly double[] _values;
    private readonly int _start;
    private readonly bool _isAxisymmetric;
    private readonly bool _isEven;

    internal DirectivityTable(Directivity directivity, ReadOnlySpan<double> wavenumbers)
    {
        _isAxisymmetric = directivity.IsAxisymmetric;
        _isEven = directivity is EvenBeam;
        double[] rows = _isAxisymmetric ? Axial(directivity, wavenumbers) : Square(directivity, wavenumbers);
        _values = GC.AllocateArray<double>(rows.Length + Lanes, pinned: true);
        _start = ElementsToCacheLine(_values);
        rows.CopyTo(_values, _start);
    }

    /// <summary>Whether the cosine off boresight is all that matters.</summary>
    internal bool IsAxial => _isAxisymmetric;

    /// <summary>Whether it is the same in all directions, behind too.</summary>
    internal bool IsEven => _isEven;

    /// <summary>Returns the signed amplitudes towards a displacement from the transducer; 0 behind it.</summary>
    /// <param name="towards">From the transducer to the point. [m]</param>
    /// <param name="inverseLength">One over its length. [1/m]</param>
    /// <param name="axes">The images of the sensor axes.</param>
    internal Vector512<double> At(Vec3 towards, double inverseLength, in Rotation axes)
    {
        double cosine = towards.Dot(axes.AxisX) * inverseLength;
        return _isAxisymmetric
            ? AtCosine(cosine)
            : AtCosines(cosine, towards.Dot(axes.AxisY) * inverseLength, towards.Dot(axes.AxisZ) * inverseLength);
    }

    /// <summary>Returns the amplitudes of a pattern that is the same all round.</summary>
    [MethodImpl(MethodImplOptions.AggressiveInlining)]
    internal Vector512<double> AtCosine(double cosine)
    {
        if (!(cosine > 0))
        {
            return Behind;
        }

        // Cubic through four nodes (Lagrange).
        double position = cosine * AxialIntervals;
        int first = (int)position - 1;
        if ((uint)first > AxialIntervals - 3)
        {
            first = first < 0 ? 0 : AxialIntervals - 3;
        }

        double f = position - first;
        double a = f - 1;
        double b = f - 2;
        double c = f - 3;
        double ab = a * b;
        double fc = f * c;
        ref double row = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_values), _start + (first * Lanes));
        Vector512<double> sum = Vector512.Create(ab * c * (-1.0 / 6)) * Vector512.LoadUnsafe(ref row);
        sum = Vector512.FusedMultiplyAdd(Vector512.Create(b * fc * 0.5), Vector512.LoadUnsafe(ref row, Lanes), sum);
        sum = Vector512.FusedMultiplyAdd(Vector512.Create(a * fc * -0.5), Vector512.LoadUnsafe(ref row, 2 * Lanes), sum);
        return Vector512.FusedMultiplyAdd(Vector512.Create(f * ab * (1.0 / 6)), Vector512.LoadUnsafe(ref row, 3 * Lanes), sum);
    }

    /// <summary>Returns the slopes of the amplitudes over the cosine off boresight, for a pattern that is the same all round: those of the
    /// very cubic that <see cref="AtCosine"/> takes.</summary>
    internal Vector512<double> SlopeAtCosine(double cosine)
    {
        if (!(cosine > 0))
        {
            return Vector512<double>.Zero;
        }

        double position = cosine * AxialIntervals;
        int first = Math.Clamp((int)position - 1, 0, AxialIntervals - 3);
        double f = position - first;
        double a = f - 1;
        double b = f - 2;
        double c = f - 3;
        ref double row = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_values), _start + (first * Lanes));
        Vector512<double> sum = Vector512.Create(((a * b) + (a * c) + (b * c)) * (-AxialIntervals / 6.0)) * Vector512.LoadUnsafe(ref row);
        sum = Vector512.FusedMultiplyAdd(Vector512.Create(((f * b) + (f * c) + (b * c)) * (AxialIntervals / 2.0)), Vector512.LoadUnsafe(ref row, Lanes), sum);
        sum = Vector512.FusedMultiplyAdd(Vector512.Create(((f * a) + (f * c) + (a * c)) * (-AxialIntervals / 2.0)), Vector512.LoadUnsafe(ref row, 2 * Lanes), sum);
        return Vector512.FusedMultiplyAdd(Vector512.Create(((f * a) + (f * b) + (a * b)) * (AxialIntervals / 6.0)), Vector512.LoadUnsafe(ref row, 3 * Lanes), sum);
    }

    /// <summary>Returns the amplitudes of any pattern from all three direction cosines.</summary>
    internal Vector512<double> AtCosines(double cosine, double u, double v) =>
        _isAxisymmetric ? AtCosine(cosine) : cosine > 0 ? AtSides(u, v) : Behind;

    private static unsafe int ElementsToCacheLine(double[] pinned) =>
        (int)(-(nint)Unsafe.AsPointer(ref MemoryMarshal.GetArrayDataReference(pinned)) & 63) / sizeof(double);

    private static double[] Axial(Directivity directivity, ReadOnlySpan<double> wavenumbers)
    {
        double[] values = new double[(AxialIntervals + 1) * Lanes];
        for (int i = 0; i <= AxialIntervals; i++)
        {
            double cosine = Math.Max((double)i / AxialIntervals, JustInFront);
            double sine = Math.Sqrt(Math.Max(0, (1 - cosine) * (1 + cosine)));
            directivity.Amplitudes(new Vec3(cosine, sine, 0), wavenumbers, values.AsSpan(i * Lanes, Lanes));
        }

        return values;
    }

    private static double[] Square(Directivity directivity, ReadOnlySpan<double> wavenumbers)
    {
        int side = SquareIntervals + 1;
        double[] values = new double[side * side * Lanes];
        for (int i = 0; i < side; i++)
        {
            for (int j = 0; j < side; j++)
            {
                double u = (double)i / SquareIntervals;
                double v = (double)j / SquareIntervals;
                double square = (u * u) + (v * v);

                // Beyond the unit circle no direction exists: the rim is carried on outwards, so that cubics near it stay smooth.
                double shrink = square > 1 ? 1 / Math.Sqrt(square) : 1;
                double x = Math.Sqrt(Math.Max(JustInFront * JustInFront, 1 - (square * shrink * shrink)));
                directivity.Amplitudes(new Vec3(x, u * shrink, v * shrink).Normalized(), wavenumbers, values.AsSpan(((i * side) + j) * Lanes, Lanes));
            }
        }

        return values;
    }

    private Vector512<double> Behind
    {
        [MethodImpl(MethodImplOptions.NoInlining)]
        get => _isEven ? Vector512<double>.One : Vector512<double>.Zero;
    }

    private static (int First, double W0, double W1, double W2, double W3) Stencil(double position, int intervals)
    {
        int first = Math.Clamp((int)position - 1, 0, intervals - 3);
        double f = position - first;
        double a = f - 1;
        double b = f - 2;
        double c = f - 3;
        return (first, a * b * c * (-1.0 / 6), f * b * c * 0.5, f * a * c * -0.5, f * a * b * (1.0 / 6));
    }

    private Vector512<double> AtSides(double u, double v)
    {
        var (i, a0, a1, a2, a3) = Stencil(Math.Min(Math.Abs(u), 1) * SquareIntervals, SquareIntervals);
        var (j, b0, b1, b2, b3) = Stencil(Math.Min(Math.Abs(v), 1) * SquareIntervals, SquareIntervals);
        int stride = (SquareIntervals + 1) * Lanes;
        ref double row = ref Unsafe.Add(ref MemoryMarshal.GetArrayDataReference(_values), _start + (i * stride) + (j * Lanes));
        return (a0 * Row(ref row)) + (a1 * Row(ref Unsafe.Add(ref row, stride)))
            + (a2 * Row(ref Unsafe.Add(ref row, 2 * stride))) + (a3 * Row(ref Unsafe.Add(ref row, 3 * stride)));

        Vector512<double> Row(ref double at)
        {
            return (b0 * Vector512.LoadUnsafe(ref at)) + (b1 * Vector512.LoadUnsafe(ref at, Lanes))
                + (b2 * Vector512.LoadUnsafe(ref at, 2 * Lanes)) + (b3 * Vector512.LoadUnsafe(ref at, 3 * Lanes));
        }
    }
}
