using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Geometry.Rays;
using SonarGeom.Quantities;

namespace SonarGeom.Coverage;

/// <summary>A walking wearer at evenly spaced stride phases, with the surfaces that rays are tested against.</summary>
internal sealed class WearerAtPhases
{
    private const double SilhouetteCellMetres = 0.01;

    private readonly Lazy<RayScene>[] _scenes;

    private WearerAtPhases(Body body, ImmutableArray<PosedBody> poses, Silhouette silhouette, ImmutableArray<string> notes)
    {
        Body = body;
        Poses = poses;
        _scenes = [.. poses.Select(p => new Lazy<RayScene>(() => SceneOf(p)))];
        Silhouette = silhouette;
        Notes = notes;
    }

    internal Body Body { get; }

    internal ImmutableArray<PosedBody> Poses { get; }

    internal Silhouette Silhouette { get; }

    internal ImmutableArray<string> Notes { get; }

    internal static WearerAtPhases Of(Body body, IWalkingMotion motion, int phases) =>
        Of(body, [.. Enumerable.Range(0, phases).Select(p => motion.PoseAt((double)p / phases))], motion.Notes);

    /// <summary>Returns the surfaces at one stride phase; made when first asked for.</summary>
    internal RayScene Scene(int phase) => _scenes[phase].Value;

    /// <summary>Makes the surfaces at all stride phases, side by side.</summary>
    internal void MakeScenes() => Parallel.For(0, _scenes.Length, p => _ = _scenes[p].Value);

    internal WearerAtPhases TurnedBy(Angle yaw) => Of(Body, [.. Poses.Select(p => p.TurnedBy(yaw))], Notes);

    /// <summary>
    /// Returns the foremost body point behind a rectangle of the frontal plane; where the body does not pass it, the foremost
    /// point at the same heights, or of the top of the head, so that a distance is never overstated. [m]
    /// </summary>
    internal double ForemostXMetres(double right, double left, double low, double high)
    {
        double cell = Silhouette.CellMetres;
        int firstRow = Math.Clamp((int)Math.Floor(low / cell), 0, Silhouette.Rows - 1);
        int lastRow = Math.Clamp((int)Math.Floor(high / cell), 0, Silhouette.Rows - 1);
        (int firstColumn, int lastColumn) = Columns(right / cell, left / cell);
        double found = Foremost(firstColumn, lastColumn, firstRow, lastRow);
        if (double.IsNegativeInfinity(found))
        {
            found = Foremost(0, Silhouette.Columns - 1, firstRow, lastRow);
        }

        for (int row = firstRow; double.IsNegativeInfinity(found) && row >= 0; row--)
        {
            found = Foremost(0, Silhouette.Columns - 1, row, row);
        }

        return double.IsNegativeInfinity(found) ? Silhouette.ForemostMetres : found;
    }

    // Columns that a rectangle reaches into; one that it only touches does not count, unless it has no width of its own.
    private (int First, int Last) Columns(double right, double left)
    {
        const double Touch = 1e-6;
        double first = Math.Floor(right + Touch), last = Math.Ceiling(left - Touch) - 1;
        (first, last) = first <= last ? (first, last) : (last, first);
        int half = Silhouette.Columns / 2;
        return (Math.Clamp((int)first + half, 0, Silhouette.Columns - 1), Math.Clamp((int)last + half, 0, Silhouette.Columns - 1));
    }

    private double Foremost(int firstColumn, int lastColumn, int firstRow, int lastRow)
    {
        double found = double.NegativeInfinity;
        for (int row = firstRow; row <= lastRow; row++)
        {
            for (int column = firstColumn; column <= lastColumn; column++)
            {
                found = Math.Max(found, Silhouette.ForemostOfCellMetres(column, row) ?? double.NegativeInfinity);
            }
        }

        return found;
    }

    private static WearerAtPhases Of(Body body, ImmutableArray<PosedBody> poses, ImmutableArray<string> notes)
    {
        Parallel.For(0, poses.Length, p =>
        {
            foreach (BodySegment segment in body.Segments)
            {
                poses[p].Mesh(segment.Id);
            }
        });
        return new WearerAtPhases(body, poses, Silhouette.Of(poses, SilhouetteCellMetres), notes);
    }

    // The cane is thinner than the first Fresnel zone: it hides nothing.
    private static RayScene SceneOf(PosedBody pose)
    {
        var builder = new RayScene.Builder();
        foreach (BodySegment segment in pose.Body.Segments.Where(s => s.Id != SegmentId.Cane))
        {
            builder.AddMesh(pose.Mesh(segment.Id), (int)segment.Id);
        }

        // One thread each: the phases are built side by side, and threads that wait for one another's threads would all stand still.
        return builder.Build(threads: 1);
    }
}
