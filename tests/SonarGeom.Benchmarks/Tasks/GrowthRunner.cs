using System.Collections.Immutable;
using System.Globalization;
using SonarGeom.Coverage;
using SonarGeom.Coverage.Kernels;
using SonarGeom.Echoes.Facets;
using SonarGeom.Files;
using SonarGeom.Files.Bodies;
using SonarGeom.Files.Catalogue;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Studies;
using SonarGeom.Transducers;

namespace SonarGeom.Benchmarks.Tasks;

/// <summary>
/// How the cost of each kind of work grows with its size: <c>growth [KIND…]</c>. Kernels that take a number of threads run on one and on
/// all; the rest runs on all, and on one when the process is bound to one processor.
/// </summary>
public static class GrowthRunner
{
    private const int Repetitions = 3;

    // Two threads reach the shortest time only when both processors happen to be free and at the same clock.
    private const int RepetitionsOfTrees = 25;
    private const double WarmUpSeconds = 0.4;

    private static readonly SortedDictionary<string, Action<TextWriter>> Kinds = new(StringComparer.Ordinal)
    {
        ["cells"] = Cells,
        ["facets"] = Facets,
        ["map-cells"] = MapCells,
        ["phases"] = Phases,
        ["sensors"] = Sensors,
        ["triangles"] = Triangles,
    };

    /// <summary>Runs the named kinds, or all.</summary>
    /// <param name="kinds">Their names.</param>
    /// <param name="output">Takes a table with one line for each size and number of threads.</param>
    /// <param name="errors">Takes the explanation when a name is wrong.</param>
    /// <returns>The exit code: 0 done, 2 wrong arguments.</returns>
    public static int Run(ReadOnlySpan<string> kinds, TextWriter output, TextWriter errors)
    {
        output.WriteLine("kind,size,threads,wall_s,processor_s,wall_ns_each,memory_mb");
        foreach (string kind in kinds.Length == 0 ? [.. Kinds.Keys] : kinds.ToArray())
        {
            if (!Kinds.TryGetValue(kind, out Action<TextWriter>? run))
            {
                errors.WriteLine($"kind is {kind}; it must be one of: {string.Join(' ', Kinds.Keys)}");
                return 2;
            }

            run(output);
        }

        return 0;
    }

    // Points in a lattice, four sensors at sixteen phases: an evaluation is one sensor at one phase for one point.
    private static void Cells(TextWriter output)
    {
        foreach (int wanted in new[] { 10_000, 100_000, 1_000_000, 10_000_000 })
        {
            int side = (int)Math.Round(Math.Cbrt(wanted));
            FieldLattice lattice = FieldFiles.Lattice(side, side, side, 5.0 / side, 4.0 / side, 2.2 / side);
            var field = new CoverageField(
                lattice,
                [.. new[] { (0.17, 1.25), (0.11, 1.64), (0.145, 0.95), (0.3, 0.3) }.Select((p, i) => SwingingTrack.Of(FieldFiles.Echo, new Vec3(p.Item1, 0, p.Item2), (5 * i) - 10, 0))]);
            var counts = new byte[lattice.Cells];
            var margins = new float[lattice.Cells];
            OnOneAndAll(threads => Write(output, "cells", lattice.Cells, threads, () => field.Evaluate(counts, margins, threads)));
        }
    }

    // Approach maps of five probes from nothing.
    private static void MapCells(TextWriter output)
    {
        Scenario scenario = DefaultScenario(out PosedLayout layout);
        foreach (double cell in new[] { 0.08, 0.04, 0.02, 0.01 })
        {
            MapSettings settings = scenario.Maps with { CellMetres = cell };
            int cells = scenario.Probes.Length * layout.GridFor(settings).Count;
            Write(output, "map-cells", cells, Environment.ProcessorCount, () => Maps(layout, scenario, settings));
        }
    }

    private static void Sensors(TextWriter output)
    {
        Scenario scenario = DefaultScenario(out PosedLayout layout);
        MapSettings settings = scenario.Maps with { CellMetres = 0.05 };
        foreach (int count in new[] { 1, 2, 4, 8 })
        {
            ImmutableArray<Layouts.SensorPlacement> own = layout.Layout.Sensors;
            PosedLayout some = layout.WithLayout(layout.Layout.WithSensors(
                [.. Enumerable.Range(0, count).Select(i => own[i % own.Length] with { Name = $"sensor-{i}" })]));
            Write(output, "sensors", count, Environment.ProcessorCount, () => Maps(some, scenario, settings));
        }
    }

    private static void Phases(TextWriter output)
    {
        foreach (int phases in new[] { 4, 8, 16, 32, 64 })
        {
            Scenario scenario = DefaultScenario(out _);
            scenario = scenario with { Walk = scenario.Walk with { StridePhases = phases } };
            PosedLayout layout = ScenarioStudy.Pose(scenario, scenario.MainWearer, BodyTableFiles.Shipped);
            MapSettings settings = scenario.Maps with { CellMetres = 0.05 };
            Write(output, "phases", phases, Environment.ProcessorCount, () => Maps(layout, scenario, settings));
        }
    }

    // A wavy sheet: its tree is built, then asked along a hundred thousand rays.
    private static void Triangles(TextWriter output)
    {
        var random = new Random(7);
        Ray[] rays =
        [
            .. Enumerable.Range(0, 100_000).Select(_ => new Ray(
                Vec3.Zero, new Vec3(1, 0.3 * (random.NextDouble() - 0.5), 0.3 * (random.NextDouble() - 0.5)).Normalized(), 0, 10)),
        ];
        var hits = new RayHit?[rays.Length];
        foreach (int wanted in new[] { 1_000, 10_000, 100_000, 1_000_000 })
        {
            TriangleMesh sheet = WavySheet.Of(wanted);
            RayScene scene = new RayScene.Builder().AddMesh(sheet, 0).Build();
            OnOneAndAll(threads => Write(output, "triangles-build", sheet.Facets.Length, threads, () => new RayScene.Builder().AddMesh(sheet, 0).Build(threads), RepetitionsOfTrees));
            OnOneAndAll(threads => Write(output, "triangles-100k-rays", sheet.Facets.Length, threads, () => scene.ClosestHits(rays, hits, threads)));
        }
    }

    // The surface integral of the same sheet at eight frequencies.
    private static void Facets(TextWriter output)
    {
        var sensor = new FacetSensor(
            new Vec3(0, 0.0125, 0), new Vec3(0, -0.0125, 0), Rotation.Identity, new CircularPiston(0.0065), new CircularPiston(0.0065),
            FacetMedium.Uniform(343.2, 1.3));
        var band = FrequencyBand.Between(36_000, 44_000, 8);
        foreach (int wanted in new[] { 1_000, 10_000, 100_000, 1_000_000 })
        {
            FacetSurface surface = FacetSurface.Of("sheet", WavySheet.Of(wanted));
            Write(
                output, "facets", wanted, Environment.ProcessorCount,
                () => SurfaceIntegral.Evaluate(surface, sensor, band, options: new(MayUseFastSum: false)));
        }
    }

    private static void Maps(PosedLayout layout, Scenario scenario, MapSettings settings)
    {
        var mapper = new ApproachMapper(layout, scenario.Walk, settings);
        foreach (Probe probe in scenario.Probes)
        {
            mapper.Map(probe);
        }
    }

    private static Scenario DefaultScenario(out PosedLayout layout)
    {
        Scenario scenario = InputFiles.ReadScenario(ShippedCatalogue.DefaultScenario).Scenario;
        layout = ScenarioStudy.Pose(scenario, scenario.MainWearer, BodyTableFiles.Shipped);
        return scenario;
    }

    private static void OnOneAndAll(Action<int> run)
    {
        run(1);
        if (Environment.ProcessorCount > 1)
        {
            run(Environment.ProcessorCount);
        }
    }

    private static void Write(TextWriter output, string kind, int size, int threads, Action work, int repetitions = Repetitions)
    {
        Timing timing = Timing.Of(work, repetitions, WarmUpSeconds);
        output.WriteLine(string.Create(
            CultureInfo.InvariantCulture,
            $"{kind},{size},{threads},{timing.BestSeconds:G4},{timing.ProcessorSeconds:G4},{1e9 * timing.BestSeconds / size:G4},{Environment.WorkingSet / 1_048_576}"));
        output.Flush();
    }
}
