using System.Collections.Immutable;
using SonarGeom.Geometry;

namespace SonarGeom.Trials;

/// <summary>The line along which a wearer means to walk, over level ground: straight from corner to corner.</summary>
public sealed record TrialPath
{
    private readonly double[] _starts;

    /// <summary>Makes a path.</summary>
    /// <param name="cornersMetres">Two or more corners from start to end, at height 0, each apart from the one before. [m]</param>
    /// <exception cref="ArgumentException">There are fewer than two corners, or two that follow each other are the same.</exception>
    public TrialPath(ImmutableArray<Vec3> cornersMetres)
    {
        if (cornersMetres.IsDefault || cornersMetres.Length < 2)
        {
            throw new ArgumentException("A path needs at least two corners.", nameof(cornersMetres));
        }

        CornersMetres = [.. cornersMetres.Select(c => new Vec3(c.X, c.Y, 0))];
        _starts = new double[CornersMetres.Length];
        for (int i = 1; i < CornersMetres.Length; i++)
        {
            double length = CornersMetres[i].DistanceTo(CornersMetres[i - 1]);
            if (!(length > 1e-6) || !double.IsFinite(length))
            {
                throw new ArgumentException($"Corner {i + 1} of the path is where corner {i} is; each must be apart from the one before.", nameof(cornersMetres));
            }

            _starts[i] = _starts[i - 1] + length;
        }
    }

    /// <summary>Gets the corners. [m]</summary>
    public ImmutableArray<Vec3> CornersMetres { get; }

    /// <summary>Gets the length. [m]</summary>
    public double LengthMetres => _starts[^1];

    /// <summary>Gets the number of straight stretches.</summary>
    public int StretchCount => CornersMetres.Length - 1;

    /// <summary>Makes a straight path along X from the origin.</summary>
    /// <param name="lengthMetres">Its length. [m]</param>
    public static TrialPath Ahead(double lengthMetres) => new([Vec3.Zero, new Vec3(lengthMetres, 0, 0)]);

    /// <summary>Returns how far from the start a stretch begins. [m]</summary>
    /// <param name="stretch">Index of the stretch.</param>
    public double StartMetres(int stretch) => _starts[stretch];

    /// <summary>Returns the stretch on which a place lies.</summary>
    /// <param name="alongMetres">Way from the start. [m]</param>
    public int StretchAt(double alongMetres)
    {
        int i = 0;
        while (i < StretchCount - 1 && alongMetres >= _starts[i + 1])
        {
            i++;
        }

        return i;
    }

    /// <summary>Returns the frame of a stretch: its start as origin, X along it.</summary>
    /// <param name="stretch">Index of the stretch.</param>
    public RigidTransform WorldFromStretch(int stretch)
    {
        Vec3 along = (CornersMetres[stretch + 1] - CornersMetres[stretch]).Normalized();
        return new RigidTransform(new Rotation(along, new Vec3(-along.Y, along.X, 0), Vec3.UnitZ), CornersMetres[stretch]);
    }
}
