using System.Collections.Immutable;
using System.Numerics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes.Facets;

/// <summary>A bush, a hedge or the crown of a tree, leaf by leaf: round flat leaves at random places and attitudes in an ellipsoid or a box.</summary>
/// <param name="CentreMetres">Centre of the form. [m]</param>
/// <param name="HalfAxesMetres">Half axes along X, Y and Z, each above 0. [m]</param>
/// <param name="LeafRadiusMetres">Radius of a leaf, above 0 and at most 0.2. [m]</param>
/// <param name="LeavesPerCubicMetre">Number of leaves per volume, above 0. [1/m³]</param>
/// <param name="ReflectionLossDecibels">Loss of one reflection, from 0. [dB]</param>
/// <remarks>
/// <para>A leaf is a rigid disc, seen from afar: strength (A/λ) ½(n·s₁ + n·s₂) 2J₁(w)/w, w = b|q_t|, q_t the part of k(s₁ + s₂) in its
/// plane (Kirchhoff). Leaves in front weaken those behind: a path through the leaves keeps exp(−N A/2 · length) of its power each way,
/// half the area of a leaf being its mean shadow. Foliage as many small discs follows Müller and Kuc, JASA 108, 836 (2000), named from
/// memory; no figure is taken from it.</para>
/// </remarks>
public sealed record Foliage(
    Vec3 CentreMetres, Vec3 HalfAxesMetres, double LeafRadiusMetres, double LeavesPerCubicMetre, double ReflectionLossDecibels = 0.0)
{
    private const int MostLeaves = 1_000_000;

    /// <summary>Gets the form that the leaves fill: an ellipsoid, unless made from a part that is a box.</summary>
    public FoliageForm Form { get; private init; }

    /// <summary>Gets the longest path that is summed up. [m]</summary>
    internal double FarthestPathMetres { get; init; } = double.PositiveInfinity;

    /// <summary>Returns the leaves of a part in its own frame.</summary>
    /// <param name="part">The part.</param>
    public static Foliage Of(FoliagePart part)
    {
        ArgumentNullException.ThrowIfNull(part);
        return new Foliage(Vec3.Zero, part.HalfAxesMetres, part.LeafRadiusMetres, part.LeavesPerCubicMetre, part.ReflectionLossDecibels)
        {
            Form = part.Form,
            LeafCount = Count(part.VolumeCubicMetres, part.LeavesPerCubicMetre),
        };
    }

    /// <summary>Gets the half axes. [m]</summary>
    public Vec3 HalfAxesMetres { get; } = HalfAxesMetres is { X: > 0, Y: > 0, Z: > 0, IsFinite: true }
        ? HalfAxesMetres
        : throw new ArgumentOutOfRangeException(nameof(HalfAxesMetres), $"The half axes are {HalfAxesMetres} m; each must be above 0.");

    /// <summary>Gets the radius of a leaf. [m]</summary>
    public double LeafRadiusMetres { get; } = Finite.Within(LeafRadiusMetres, 1e-4, 0.2, nameof(LeafRadiusMetres), "m");

    /// <summary>Gets the volume. [m³]</summary>
    public double VolumeCubicMetres => Whole.VolumeCubicMetres;

    /// <summary>Gets the number of leaves.</summary>
    public int LeafCount { get; private init; } =
        Count(4.0 / 3.0 * Math.PI * HalfAxesMetres.X * HalfAxesMetres.Y * HalfAxesMetres.Z, LeavesPerCubicMetre);

    private FoliagePart Whole => new(
        "leaves", new RigidTransform(Rotation.Identity, CentreMetres), Form, HalfAxesMetres, LeafRadiusMetres, LeavesPerCubicMetre, ReflectionLossDecibels);

    /// <summary>Returns the strength of one leaf struck square on, at 1 m: area over wavelength. [m]</summary>
    /// <param name="wavelengthMetres">The wavelength. [m]</param>
    public double BroadsideStrengthMetres(double wavelengthMetres) => Math.PI * LeafRadiusMetres * LeafRadiusMetres / wavelengthMetres;

    /// <summary>Returns echoes of members of the ensemble, each with other places and attitudes of its leaves.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="band">The frequencies.</param>
    /// <param name="members">Number of members, at least 1.</param>
    /// <param name="seed">Seed; the same seed gives the same leaves.</param>
    public EnsembleEcho Evaluate(FacetSensor sensor, FrequencyBand band, int members, int seed)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        ArgumentNullException.ThrowIfNull(band);
        ArgumentOutOfRangeException.ThrowIfLessThan(members, 1);
        var echoes = new EchoSpectrum[members];
        Parallel.For(0, members, member => echoes[member] = Member(sensor, band, ((long)seed << 32) + member));
        return new EnsembleEcho([.. echoes]);
    }

    private EchoSpectrum Member(FacetSensor sensor, FrequencyBand band, long seed)
    {
        var random = new SeededNumbers(seed);
        var sum = new ScattererSum(sensor, band);
        Span<double> strengths = stackalloc double[BandNodes.MostNodes];
        double area = Math.PI * LeafRadiusMetres * LeafRadiusMetres;
        double material = Decibels.ToAmplitudeRatio(-ReflectionLossDecibels);
        FoliagePart whole = Whole;
        double extinction = whole.ExtinctionPerMetre;
        for (int leaf = 0; leaf < LeafCount; leaf++)
        {
            Vec3 inside = Inside(ref random, Form);
            Vec3 normal = random.Direction();
            Vec3 point = CentreMetres + new Vec3(inside.X * HalfAxesMetres.X, inside.Y * HalfAxesMetres.Y, inside.Z * HalfAxesMetres.Z);
            if (sum.PathMetres(point) > FarthestPathMetres)
            {
                continue;
            }

            (Vec3 u1, Vec3 u2) = sum.Directions(point);
            double c1 = -u1.Dot(normal);
            double c2 = -u2.Dot(normal);
            if (c1 < 0 && c2 < 0)
            {
                (c1, c2) = (-c1, -c2);
            }

            if (!(c1 > 0) || !(c2 > 0))
            {
                continue;
            }

            Vec3 gradient = u1 + u2;
            double inPlane = (gradient - (gradient.Dot(normal) * normal)).Length;

            // Half the loss of power each way: amplitudes.
            double through = Math.Exp(-0.5 * extinction * (Depth(whole, point, -u1) + Depth(whole, point, -u2)));
            for (int m = 0; m < sum.Wavenumbers.Length; m++)
            {
                double k = sum.Wavenumbers[m];
                strengths[m] = material * through * k / (2.0 * Math.PI) * area * 0.5 * (c1 + c2)
                    * PistonPattern.Evaluate(k * inPlane * LeafRadiusMetres);
            }

            // −ik/2π: the quarter turn of the Kirchhoff integral.
            sum.Add(point, strengths, new Complex(0.0, -1.0));
        }

        return sum.ToEcho();
    }

    private static Vec3 Inside(ref SeededNumbers random, FoliageForm form)
    {
        while (true)
        {
            var point = new Vec3(random.Between(-1.0, 1.0), random.Between(-1.0, 1.0), random.Between(-1.0, 1.0));
            if (form == FoliageForm.Box || point.LengthSquared <= 1.0)
            {
                return point;
            }
        }
    }

    /// <summary>Length of the way out of the form from a point inside it. [m]</summary>
    private double Depth(FoliagePart whole, Vec3 point, Vec3 direction) =>
        whole.Crosses(point - CentreMetres, direction, out _, out double far) ? Math.Max(0, far) : 0;

    private static int Count(double volume, double perCubicMetre)
    {
        double count = volume * perCubicMetre;
        return count is >= 1 and <= MostLeaves
            ? (int)Math.Round(count)
            : throw new ArgumentOutOfRangeException(nameof(perCubicMetre), $"There would be {count:0} leaves; there must be from 1 to {MostLeaves}.");
    }
}
