using System.Numerics;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Echoes.Facets;

/// <summary>The backscatter of rough ground as an ensemble of random points with Lambert's law.</summary>
/// <param name="HeightMetres">Height of the ground, world frame. [m]</param>
/// <param name="LambertDecibels">10·log₁₀ μ, at most −4.97: the power scattered back per area is μ sin ψ₁ sin ψ₂. [dB]</param>
/// <param name="PointsPerSquareMetre">Number of points; enough that many share a pulse, at least 100. [1/m²]</param>
/// <remarks>Each point has a complex normal strength, so that levels fluctuate as those of an echo of many stones do; its mean power
/// is μ sin ψ₁ sin ψ₂ over the density of points.</remarks>
public sealed record RoughGround(double HeightMetres, double LambertDecibels, double PointsPerSquareMetre = 4000.0)
{
    private const int MostPoints = 2_000_000;

    /// <summary>Gets 10·log₁₀ μ. [dB]</summary>
    public double LambertDecibels { get; } = Finite.Within(LambertDecibels, -100.0, -4.97, nameof(LambertDecibels), "dB");

    /// <summary>Gets the number of points per area. [1/m²]</summary>
    public double PointsPerSquareMetre { get; } = Finite.Within(PointsPerSquareMetre, 100.0, 1e6, nameof(PointsPerSquareMetre), "1/m²");

    /// <summary>Returns echoes of members of the ensemble.</summary>
    /// <param name="sensor">The sensor, above the ground.</param>
    /// <param name="band">The frequencies.</param>
    /// <param name="innerMetres">Points nearer than this to the spot below the sensor are left out, along the ground. [m]</param>
    /// <param name="outerMetres">Points farther than this are left out, along the ground; above the former. [m]</param>
    /// <param name="members">Number of members, at least 1.</param>
    /// <param name="seed">Seed; the same seed gives the same points.</param>
    public EnsembleEcho Evaluate(FacetSensor sensor, FrequencyBand band, double innerMetres, double outerMetres, int members, int seed)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        ArgumentNullException.ThrowIfNull(band);
        ArgumentOutOfRangeException.ThrowIfLessThan(members, 1);
        double area = Math.PI * ((outerMetres * outerMetres) - (innerMetres * innerMetres));
        double count = area * PointsPerSquareMetre;
        if (!(innerMetres >= 0) || !(count >= 1) || count > MostPoints)
        {
            throw new ArgumentOutOfRangeException(
                nameof(outerMetres), $"A ring from {innerMetres} to {outerMetres} m would have {count:0} points; there must be from 1 to {MostPoints}.");
        }

        var echoes = new EchoSpectrum[members];
        Parallel.For(0, members, member => echoes[member] = Member(
            sensor, band, innerMetres, outerMetres, (int)count, area / (int)count, ((long)seed << 32) + member));
        return new EnsembleEcho([.. echoes]);
    }

    private EchoSpectrum Member(FacetSensor sensor, FrequencyBand band, double inner, double outer, int count, double areaEach, long seed)
    {
        var random = new SeededNumbers(seed);
        var sum = new ScattererSum(sensor, band);
        Span<double> strengths = stackalloc double[BandNodes.MostNodes];
        double strength = Math.Sqrt(Decibels.ToPowerRatio(LambertDecibels) * areaEach);
        Vec3 below = sensor.MidpointMetres with { Z = HeightMetres };
        for (int i = 0; i < count; i++)
        {
            double radius = Math.Sqrt(random.Between(inner * inner, outer * outer));
            var (sine, cosine) = Math.SinCos(2.0 * Math.PI * random.Unit());
            var (real, imaginary) = random.Normal();
            Vec3 point = below + new Vec3(radius * cosine, radius * sine, 0.0);
            (Vec3 u1, Vec3 u2) = sum.Directions(point);
            double grazing = Math.Sqrt(Math.Max(0.0, u1.Z * u2.Z));
            strengths[..sum.Wavenumbers.Length].Fill(strength * grazing);
            sum.Add(point, strengths, new Complex(real, imaginary));
        }

        return sum.ToEcho();
    }
}
