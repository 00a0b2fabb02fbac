using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Cli.Results;
using SonarGeom.Coverage;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Rendering.Colours;
using SonarGeom.Rendering.Figures;
using SonarGeom.Rendering.Grids;

namespace SonarGeom.Cli.Reports;

/// <summary>What is laid over maps and slices: the wearer, the bands, the cane, the sensors and their beams.</summary>
internal static class BodyMarks
{
    /// <summary>One-way level at which a beam's edge is drawn. [dB]</summary>
    internal const double BeamEdgeDecibels = -6;

    private const double ProfileCellMetres = 0.02;
    private const double BeamCellMetres = 0.05;

    private static readonly Colour CaneColour = Colour.FromHex("615511");

    /// <summary>Returns the outline of the swept silhouette.</summary>
    internal static MapOutline Silhouette(PosedLayout posed) => new(
        "wearer's swept silhouette",
        [.. posed.Silhouette.Outlines.Select(o => o.Select(p => new PlotPoint(p.YMetres, p.ZMetres)).ToImmutableArray())],
        true,
        new(Colour.Ink, DashPattern.Full, 3));

    /// <summary>Returns the height bands, each with a detail under its name.</summary>
    internal static ImmutableArray<MapBand> Bands(PosedLayout posed, Func<HeightBand, string> detail) =>
    [
        .. FigureWords.Bands.Select(b => new MapBand(Words.Of(b), posed.BandLowMetres(b), posed.BandHighMetres(b)) { Detail = detail(b) }),
    ];

    /// <summary>Returns the part of a frontal map that the long cane partly covers.</summary>
    internal static ImmutableArray<MapRegion> Cane(PosedLayout posed, CoverageGrid grid)
    {
        if (posed.Body.CaneCoverage is not { } cane)
        {
            return [];
        }

        // As wide as the map at most: the tip reaches farther to the sides than the body.
        double half = Math.Min(cane.HalfWidthMetres, grid.Columns * grid.CellMetres / 2);
        return
        [
            new(
                "long cane reaches here, partial",
                [[new(half, 0), new(half, cane.TopMetres), new(-half, cane.TopMetres), new(-half, 0)]],
                HatchPattern.Dots, CaneColour),
        ];
    }

    /// <summary>Returns the sensors seen along one axis; those that a slice is far from may be left out.</summary>
    internal static ImmutableArray<MapMarker> Sensors(PosedLayout posed, Func<Vec3, PlotPoint> seen, Func<Vec3, bool>? isShown = null) =>
    [
        .. Enumerable.Range(0, posed.SensorCount).Where(s => isShown?.Invoke(posed.Sensor(s, 0).MidpointMetres) ?? true).Select(s =>
            new MapMarker(posed.Layout.Sensors[s].Name, seen(posed.Sensor(s, 0).MidpointMetres), MarkerShape.Diamond) { LegendName = "sensor" }),
    ];

    /// <summary>Returns, for each sensor, where its transmitter's beam has fallen by 6 dB on the plane of a slice.</summary>
    internal static ImmutableArray<MapOutline> Beams(PosedLayout posed, MarginSlice slice)
    {
        int across = (int)Math.Ceiling(slice.Columns * slice.CellMetres / BeamCellMetres);
        int up = (int)Math.Ceiling(slice.Rows * slice.CellMetres / BeamCellMetres);
        var axisX = new GridAxis(slice.FirstXMetres, BeamCellMetres, across);
        var axisOther = new GridAxis(slice.FirstOtherMetres, BeamCellMetres, up);
        var outlines = ImmutableArray.CreateBuilder<MapOutline>();
        for (int s = 0; s < posed.SensorCount; s++)
        {
            SensorAtPose sensor = posed.Sensor(s, (int)Math.Round(slice.StridePhaseFraction * posed.PhaseCount));
            var levels = new double[across * up];
            for (int i = 0; i < levels.Length; i++)
            {
                double x = axisX.Centre(i % across), other = axisOther.Centre(i / across);
                double amplitude = Math.Abs(sensor.TransmitAmplitude(PointOf(slice, x, other)));
                levels[i] = Math.Max(-60, 20 * Math.Log10(Math.Max(amplitude, 1e-9)));
            }

            ImmutableArray<ContourLine> lines = ContourTracer.Trace(new(axisX, axisOther, ImmutableArray.Create(levels)), BeamEdgeDecibels);
            foreach (ContourLine line in lines)
            {
                outlines.Add(new(
                    $"beam edge (−{-BeamEdgeDecibels:0} dB one way) of {posed.Layout.Sensors[s].Name}", [line.Points], line.IsClosed,
                    new(CategoricalPalette.At(s + 3), DashOf(s), 2.4))
                {
                    HasRim = false,
                });
            }
        }

        return outlines.ToImmutable();
    }

    /// <summary>Returns the wearer's outline in the pose of a slice: cut through at a plan slice, from the side at a side slice.</summary>
    internal static MapOutline Wearer(PosedLayout posed, MarginSlice slice)
    {
        PosedBody pose = posed.Poses[(int)Math.Round(slice.StridePhaseFraction * posed.PhaseCount)];
        ImmutableArray<ImmutableArray<PlotPoint>> lines = slice.Plane == SlicePlane.Plan ? Section(pose, slice.AtMetres) : Profile(pose);
        bool isPlan = slice.Plane == SlicePlane.Plan;
        return new(isPlan ? "wearer at this height" : "wearer from the side", lines, !isPlan, new(Colour.Ink, DashPattern.Full, 2.4));
    }

    private static DashPattern DashOf(int sensor) => (DashPattern)(1 + (sensor % 6));

    private static Vec3 PointOf(MarginSlice slice, double x, double other) =>
        slice.Plane == SlicePlane.Plan ? new(x, other, slice.AtMetres) : new(x, slice.AtMetres, other);

    // The cuts of all facets with the level plane, one short line each.
    private static ImmutableArray<ImmutableArray<PlotPoint>> Section(PosedBody pose, double height)
    {
        var lines = ImmutableArray.CreateBuilder<ImmutableArray<PlotPoint>>();
        foreach (BodySegment segment in pose.Body.Segments)
        {
            TriangleMesh mesh = pose.Mesh(segment.Id);
            foreach (Facet facet in mesh.Facets)
            {
                var cut = new List<PlotPoint>(2);
                Span<int> corners = [facet.A, facet.B, facet.C, facet.A];
                for (int e = 0; e < 3; e++)
                {
                    Vec3 a = mesh.Vertices[corners[e]], b = mesh.Vertices[corners[e + 1]];
                    if ((a.Z < height) != (b.Z < height))
                    {
                        double share = (height - a.Z) / (b.Z - a.Z);
                        cut.Add(new(a.X + (share * (b.X - a.X)), a.Y + (share * (b.Y - a.Y))));
                    }
                }

                if (cut.Count == 2)
                {
                    lines.Add([.. cut]);
                }
            }
        }

        return lines.ToImmutable();
    }

    private static ImmutableArray<ImmutableArray<PlotPoint>> Profile(PosedBody pose)
    {
        TriangleMesh[] meshes = [.. pose.Body.Segments.Where(s => s.Id != SegmentId.Cane).Select(s => pose.Mesh(s.Id))];
        double low = meshes.SelectMany(m => m.Vertices).Min(v => v.X), high = meshes.SelectMany(m => m.Vertices).Max(v => v.X);
        double top = meshes.SelectMany(m => m.Vertices).Max(v => v.Z);
        var across = new GridAxis(low - ProfileCellMetres, ProfileCellMetres, (int)((high - low) / ProfileCellMetres) + 4);
        var up = new GridAxis(-ProfileCellMetres, ProfileCellMetres, (int)(top / ProfileCellMetres) + 4);
        var covered = new double[across.Count * up.Count];
        foreach (TriangleMesh mesh in meshes)
        {
            foreach (Facet f in mesh.Facets)
            {
                Cover(mesh.Vertices[f.A], mesh.Vertices[f.B], mesh.Vertices[f.C], across, up, covered);
            }
        }

        return [.. ContourTracer.Trace(new(across, up, ImmutableArray.Create(covered)), 0.5).Where(l => l.Points.Length > 8).Select(l => l.Points)];
    }

    private static void Cover(Vec3 a, Vec3 b, Vec3 c, GridAxis across, GridAxis up, double[] covered)
    {
        double area = ((b.X - a.X) * (c.Z - a.Z)) - ((c.X - a.X) * (b.Z - a.Z));
        if (area == 0)
        {
            return;
        }

        int First(double v, GridAxis axis) => Math.Max(0, (int)Math.Ceiling((v - axis.FirstCentre) / axis.Step));
        int Last(double v, GridAxis axis) => Math.Min(axis.Count - 1, (int)Math.Floor((v - axis.FirstCentre) / axis.Step));
        for (int row = First(Math.Min(a.Z, Math.Min(b.Z, c.Z)), up); row <= Last(Math.Max(a.Z, Math.Max(b.Z, c.Z)), up); row++)
        {
            for (int column = First(Math.Min(a.X, Math.Min(b.X, c.X)), across); column <= Last(Math.Max(a.X, Math.Max(b.X, c.X)), across); column++)
            {
                double x = across.Centre(column), z = up.Centre(row);
                double u = (((c.X - b.X) * (z - b.Z)) - ((x - b.X) * (c.Z - b.Z))) / area;
                double v = (((a.X - c.X) * (z - c.Z)) - ((x - c.X) * (a.Z - c.Z))) / area;
                if (u >= 0 && v >= 0 && u + v <= 1)
                {
                    covered[(row * across.Count) + column] = 1;
                }
            }
        }
    }
}
