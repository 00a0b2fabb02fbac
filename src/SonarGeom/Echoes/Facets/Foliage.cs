using System.Collections.Immutable;
using System.Numerics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Echoes.Facets;

/// <summary>A bush, a hedge or the crown of a tree, leaf by leaf: round flat leaves at random places and attitudes.</summary>
/// <param name="Part">The form that they fill, their size and number; at most a million leaves.</param>
/// <remarks>
/// <para>A leaf is a rigid disc, seen from afar: strength (A/λ) ½(n·s₁ + n·s₂) 2J₁(w)/w, w = b|q_t|, q_t the part of k(s₁ + s₂) in its
/// plane (Kirchhoff). Leaves in front weaken those behind: a path through the leaves keeps exp(−N A/2 · length) of its power each way,
/// half the area of a leaf being its mean shadow. Foliage as many small discs follows Müller and Kuc, JASA 108, 836 (2000), named from
/// memory; no figure is taken from it.</para>
/// </remarks>
public sealed record Foliage(FoliagePart Part)
{
    private const int MostLeaves = 1_000_000;

    /// <summary>Gets the form that the leaves fill, their size and number.</summary>
    public FoliagePart Part { get; } = Part ?? throw new ArgumentNullException(nameof(Part));

    /// <summary>Gets the longest path that is summed up. [m]</summary>
    internal double FarthestPathMetres { get; init; } = double.PositiveInfinity;

    /// <summary>Gets the number of leaves.</summary>
    public int LeafCount { get; } = Part.VolumeCubicMetres * Part.LeavesPerCubicMetre is var count and >= 1 and <= MostLeaves
        ? (int)Math.Round(count)
        : throw new ArgumentOutOfRangeException(
            nameof(Part), $"There would be {Part.VolumeCubicMetres * Part.LeavesPerCubicMetre:0} leaves; there must be from 1 to {MostLeaves}.");

    /// <summary>Returns the strength of one leaf struck square on, at 1 m: area over wavelength. [m]</summary>
    /// <param name="wavelengthMetres">The wavelength. [m]</param>
    public double BroadsideStrengthMetres(double wavelengthMetres) => Part.LeafAreaSquareMetres / wavelengthMetres;

    /// <summary>Returns places and attitudes of the first leaves of a member of the ensemble.</summary>
    /// <param name="count">How many, at least 0.</param>
    /// <param name="seed">Seed; the same seed gives the same leaves.</param>
    public ImmutableArray<Leaf> Leaves(int count, long seed)
    {
        var random = new SeededNumbers(seed);
        var leaves = ImmutableArray.CreateBuilder<Leaf>(count);
        for (int i = 0; i < count; i++)
        {
            leaves.Add(Next(ref random));
        }

        return leaves.MoveToImmutable();
    }

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
        double radius = Part.LeafRadiusMetres;
        double material = Decibels.ToAmplitudeRatio(-Part.ReflectionLossDecibels);
        for (int leaf = 0; leaf < LeafCount; leaf++)
        {
            (Vec3 point, Vec3 normal) = Next(ref random);
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
            double through = Math.Exp(-0.5 * Part.ExtinctionPerMetre * (DepthMetres(point, -u1) + DepthMetres(point, -u2)));
            for (int m = 0; m < sum.Wavenumbers.Length; m++)
            {
                double k = sum.Wavenumbers[m];
                strengths[m] = material * through * k / (2.0 * Math.PI) * Part.LeafAreaSquareMetres * 0.5 * (c1 + c2)
                    * PistonPattern.Evaluate(k * inPlane * radius);
            }

            // −ik/2π: the quarter turn of the Kirchhoff integral.
            sum.Add(point, strengths, new Complex(0.0, -1.0));
        }

        return sum.ToEcho();
    }

    private Leaf Next(ref SeededNumbers random)
    {
        Vec3 inside;
        do
        {
            inside = new Vec3(random.Between(-1.0, 1.0), random.Between(-1.0, 1.0), random.Between(-1.0, 1.0));
        }
        while (Part.Form == FoliageForm.Ellipsoid && inside.LengthSquared > 1.0);
        Vec3 h = Part.HalfAxesMetres;
        return new Leaf(
            Part.WorldFromFoliage.ApplyToPoint(new Vec3(inside.X * h.X, inside.Y * h.Y, inside.Z * h.Z)), Part.WorldFromFoliage.Rotation.Apply(random.Direction()));
    }

    /// <summary>Length of the way out of the form from a point inside it. [m]</summary>
    private double DepthMetres(Vec3 point, Vec3 direction)
    {
        RigidTransform pose = Part.WorldFromFoliage;
        return Part.Crosses(pose.Rotation.ApplyInverse(point - pose.Translation), pose.Rotation.ApplyInverse(direction), out _, out double far)
            ? Math.Max(0, far)
            : 0;
    }
}

/// <summary>One leaf.</summary>
/// <param name="MiddleMetres">Its middle. [m]</param>
/// <param name="Normal">The unit normal of its plane.</param>
public readonly record struct Leaf(Vec3 MiddleMetres, Vec3 Normal);
