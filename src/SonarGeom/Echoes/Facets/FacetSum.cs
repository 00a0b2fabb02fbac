using System.Buffers;
using System.Collections.Concurrent;
using System.Collections.Immutable;
using System.Numerics;

namespace SonarGeom.Echoes.Facets;

/// <summary>Echoes of a cloud of small facets for one or more sensors: the fast way for fine meshes and many frequencies.</summary>
/// <remarks>Nothing shadows anything here, and facets count whole. Results do not depend on the number of threads.</remarks>
public static class FacetSum
{
    // What the library takes as one thread for each processor.
    private const int EveryProcessor = -1;

    private static readonly ConcurrentBag<FacetKernel> Kernels = [];

    /// <summary>Returns the echo for each sensor, as the surface integral defines it (see <see cref="SurfaceIntegral"/>).</summary>
    /// <param name="cloud">The facets; their radius should be below a sixth of the shortest wavelength.</param>
    /// <param name="sensors">The sensors.</param>
    /// <param name="band">The frequencies.</param>
    /// <param name="threads">Number of threads, at least 1; null for one for each processor.</param>
    public static ImmutableArray<EchoSpectrum> Evaluate(FacetCloud cloud, IReadOnlyList<FacetSensor> sensors, FrequencyBand band, int? threads = null)
    {
        ArgumentNullException.ThrowIfNull(cloud);
        ArgumentNullException.ThrowIfNull(sensors);
        ArgumentNullException.ThrowIfNull(band);
        if (threads < 1)
        {
            throw new ArgumentOutOfRangeException(nameof(threads), $"The number of threads is {threads}; it must be at least 1.");
        }

        FacetBandPlan[][] plans = [.. sensors.Select(sensor => FacetBandPlan.All(band, sensor.Medium))];
        var sums = new Complex[sensors.Count * band.Count];
        PathRange[] ranges = Sum(cloud, sensors, plans, band.Count, threads ?? EveryProcessor, sums);
        var echoes = ImmutableArray.CreateBuilder<EchoSpectrum>(sensors.Count);
        for (int s = 0; s < sensors.Count; s++)
        {
            var pressures = new Complex[band.Count];
            double middle = 0.25 * (ranges[s].Nearest + ranges[s].Farthest);
            for (int j = 0; j < pressures.Length; j++)
            {
                // −(1/2π)(ik − 1/r): the small second term with the distance of the cloud's middle.
                double k = sensors[s].Medium.WavenumberRadiansPerMetre(band.Hertz(j));
                double near = ranges[s].Facets > 0 ? 1.0 / middle : 0.0;
                pressures[j] = new Complex(near, -k) * sums[(s * band.Count) + j] / (2.0 * Math.PI);
            }

            echoes.Add(new EchoSpectrum(
                band, [.. pressures], ranges[s].Facets > 0 ? ranges[s].Nearest : 0.0, ranges[s].Farthest)
            { FacetsSummed = ranges[s].Facets });
        }

        return echoes.MoveToImmutable();
    }

    /// <summary>Sums the facets: for each sensor and frequency, without the factor of the Kirchhoff integral.</summary>
    /// <param name="cloud">The facets.</param>
    /// <param name="sensors">The sensors.</param>
    /// <param name="plans">The plans of the band for each sensor.</param>
    /// <param name="frequencies">Number of frequencies of the band.</param>
    /// <param name="threads">Number of threads.</param>
    /// <param name="sums">Receives the sums, sensor by sensor.</param>
    /// <returns>The paths of the facets that took part, for each sensor.</returns>
    internal static PathRange[] Sum(
        FacetCloud cloud, IReadOnlyList<FacetSensor> sensors, FacetBandPlan[][] plans, int frequencies, int threads, Complex[] sums)
    {
        int chunks = (cloud.Count + FacetKernel.ChunkFacets - 1) / FacetKernel.ChunkFacets;
        int stride = sensors.Count * frequencies;
        Complex[] partial = ArrayPool<Complex>.Shared.Rent(chunks * stride);
        Array.Clear(partial, 0, chunks * stride);
        var ranges = new PathRange[chunks * sensors.Count];
        if (threads == 1)
        {
            FacetKernel kernel = Kernels.TryTake(out FacetKernel? kept) ? kept : new FacetKernel();
            for (int chunk = 0; chunk < chunks; chunk++)
            {
                AddChunk(kernel, chunk);
            }

            Kernels.Add(kernel);
        }
        else
        {
            Parallel.For(
                0,
                chunks,
                new ParallelOptions { MaxDegreeOfParallelism = threads },
                () => Kernels.TryTake(out FacetKernel? kept) ? kept : new FacetKernel(),
                (chunk, _, kernel) =>
                {
                    AddChunk(kernel, chunk);
                    return kernel;
                },
                Kernels.Add);
        }

        var total = new PathRange[sensors.Count];
        Array.Fill(total, new PathRange(double.PositiveInfinity, 0.0, 0));
        Array.Clear(sums);
        for (int chunk = 0; chunk < chunks; chunk++)
        {
            for (int i = 0; i < stride; i++)
            {
                sums[i] += partial[(chunk * stride) + i];
            }

            for (int s = 0; s < sensors.Count; s++)
            {
                total[s] = total[s].With(ranges[(chunk * sensors.Count) + s]);
            }
        }

        ArrayPool<Complex>.Shared.Return(partial);
        return total;

        void AddChunk(FacetKernel kernel, int chunk)
        {
            int start = chunk * FacetKernel.ChunkFacets;
            int end = Math.Min(cloud.Count, start + FacetKernel.ChunkFacets);
            for (int s = 0; s < sensors.Count; s++)
            {
                Span<Complex> into = partial.AsSpan((chunk * stride) + (s * frequencies), frequencies);
                (double nearest, double farthest, int facets) = kernel.Add(cloud, start, end, sensors[s], plans[s], into);
                ranges[(chunk * sensors.Count) + s] = new PathRange(nearest, farthest, facets);
            }
        }
    }

    /// <summary>The shortest and the longest path of facets that took part, and how many did.</summary>
    internal readonly record struct PathRange(double Nearest, double Farthest, long Facets)
    {
        internal PathRange With(PathRange other) =>
            new(Math.Min(Nearest, other.Nearest), Math.Max(Farthest, other.Farthest), Facets + other.Facets);
    }
}
