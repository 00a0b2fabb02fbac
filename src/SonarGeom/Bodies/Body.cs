using System.Collections.Immutable;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Bodies;

/// <summary>The body of one wearer: sizes, surface, landmarks and mounting sites. Immutable.</summary>
/// <remarks>Without a cane it is exactly symmetric left and right.</remarks>
public sealed class Body
{
    private const double ThickestSoleMetres = 0.12;

    private readonly BodySegment?[] _segments = new BodySegment?[Bodies.Segments.Count];

    private Body(WearerSpec spec, BodyDimensions dimensions, Skeleton skeleton, BodyTables tables)
    {
        Spec = spec;
        Dimensions = dimensions;
        Skeleton = skeleton;
        Tables = tables;
        var poses = new StaticPoses(this);
        foreach (BodySegment segment in BodySurface.Of(skeleton, poses))
        {
            _segments[(int)segment.Id] = segment;
        }

        Segments = [.. _segments.OfType<BodySegment>()];
        AllLandmarks = BodyLandmarks.Of(skeleton, tables);
        Poses = poses;
        Neutral = poses.Neutral();
        Still = poses.InPosture();
        AllSites = BodySites.Of(this);
        Landmarks = ByName(AllLandmarks, l => l.Name, l => Neutral.LandmarkMetres(l.Name));
        LandmarkErrorsMetres = ByName(AllLandmarks, l => l.Name, l => l.StandardErrorMetres);
        Sites = ByName(AllSites, s => s.Name, s => s);
        CrownHeightMetres = Still.Mesh(SegmentId.Head).Vertices.Max(v => v.Z);
        Bands = HeightBands.Between(MidShinHeightMetres, CrotchHeightMetres, SternumBaseHeightMetres, ChinHeightMetres, CrownHeightMetres);
        CaneCoverage = poses.IsSeated
            ? null
            : new CaneCoverage(poses.CaneHandHeightMetres, tables.Assumed("cane_sweep_half_width"));
    }

    /// <summary>Gets what was known about the wearer.</summary>
    public WearerSpec Spec { get; }

    /// <summary>Gets the measures, barefoot and erect, with their standard errors.</summary>
    public BodyDimensions Dimensions { get; }

    /// <summary>Gets the parts that this body has.</summary>
    public ImmutableArray<BodySegment> Segments { get; }

    /// <summary>Gets the body in the neutral pose, in which mounts are aimed: erect (or seated erect), looking straight ahead, arms
    /// hanging (a cane held ahead, forearms on the rests of a wheelchair).</summary>
    public PosedBody Neutral { get; }

    /// <summary>Gets the body still, in the wearer's posture.</summary>
    public PosedBody Still { get; }

    /// <summary>Gets where the landmarks are in the neutral pose, by name. [m]</summary>
    public ImmutableSortedDictionary<string, Vec3> Landmarks { get; }

    /// <summary>Gets the standard errors of the heights of the landmarks, by name. [m]</summary>
    public ImmutableSortedDictionary<string, double> LandmarkErrorsMetres { get; }

    /// <summary>Gets the landmarks, part by part, the head first.</summary>
    public ImmutableArray<Landmark> AllLandmarks { get; }

    /// <summary>Gets the mounting sites by name.</summary>
    public ImmutableSortedDictionary<string, Site> Sites { get; }

    /// <summary>Gets the mounting sites, part by part, the head first.</summary>
    public ImmutableArray<Site> AllSites { get; }

    /// <summary>Gets the height of the highest point of the head in the wearer's posture, in shoes. [m]</summary>
    public double CrownHeightMetres { get; }

    /// <summary>Gets the height of the chin in the wearer's posture, in shoes. [m]</summary>
    public double ChinHeightMetres => Still.LandmarkMetres("chin").Z;

    /// <summary>Gets the height of the base of the breastbone in the wearer's posture, in shoes. [m]</summary>
    public double SternumBaseHeightMetres => Still.LandmarkMetres("sternum base").Z;

    /// <summary>Gets the height of the crotch in the wearer's posture, in shoes. [m]</summary>
    public double CrotchHeightMetres => Still.LandmarkMetres("crotch").Z;

    /// <summary>Gets the height of the middle of the shin in the wearer's posture, in shoes. [m]</summary>
    public double MidShinHeightMetres => Still.LandmarkMetres("mid shin left").Z;

    /// <summary>Gets the bands of height in the wearer's posture, in shoes.</summary>
    public HeightBands Bands { get; }

    /// <summary>Gets what a long cane of the usual length reaches in this wearer's hand, whether one is carried or not; null for a
    /// wearer in a wheelchair.</summary>
    public CaneCoverage? CaneCoverage { get; }

    /// <summary>Gets what is assumed or uncertain about this body, in sentences.</summary>
    public ImmutableArray<string> Notes => Dimensions.Notes.AddRange(Poses.Notes);

    internal Skeleton Skeleton { get; }

    internal BodyTables Tables { get; }

    internal StaticPoses Poses { get; }

    /// <summary>Builds the body of a wearer.</summary>
    /// <param name="spec">What is known about the wearer.</param>
    /// <param name="tables">The tables to build from.</param>
    /// <exception cref="ArgumentException">Something given contradicts something else, or lies outside what the tables cover;
    /// the message names it and what is allowed.</exception>
    public static Body Build(WearerSpec spec, BodyTables tables)
    {
        ArgumentNullException.ThrowIfNull(spec);
        ArgumentNullException.ThrowIfNull(tables);
        if (spec.CaneSide is not null && spec.Wheelchair is not null)
        {
            throw new ArgumentException($"{spec.Name} has both a cane and a wheelchair; only one may be given.", nameof(spec));
        }

        if (spec.GuideDogSide is not null && (spec.Wheelchair is not null || spec.GuideDogSide == spec.CaneSide))
        {
            throw new ArgumentException(
                $"{spec.Name} has a guide dog {(spec.Wheelchair is not null ? "and a wheelchair; only one may be given" : "and a cane on the same side; they need a hand each")}.",
                nameof(spec));
        }

        if (spec.SeatHeightMetres is not null && spec.Wheelchair is null)
        {
            throw new ArgumentException($"{spec.Name} has a seat height but no wheelchair.", nameof(spec));
        }

        if (spec.Wheelchair is not null && spec.AgeYears < 18)
        {
            throw new ArgumentException(
                $"{spec.Name} is a child in a wheelchair; only seats of adults were surveyed, so the age must be at least 18.", nameof(spec));
        }

        BodyDimensions dimensions = BodyDimensions.Of(spec, tables);
        double sole = spec.FootwearMetres ?? tables.Assumed("footwear_thickness");
        Finite.Within(sole, 0, ThickestSoleMetres, "Footwear", "m");
        return new Body(spec, dimensions, new Skeleton(dimensions, sole, tables), tables);
    }

    /// <summary>Returns whether the body has a part: the cane and the wheelchair only if the wearer uses one.</summary>
    /// <param name="segment">A part.</param>
    public bool Has(SegmentId segment) => _segments[(int)segment] is not null;

    /// <summary>Returns a part.</summary>
    /// <param name="segment">Which part.</param>
    /// <exception cref="ArgumentException">The body has no such part.</exception>
    public BodySegment Segment(SegmentId segment) =>
        _segments[(int)segment] ?? throw new ArgumentException($"This body has no {segment}.", nameof(segment));

    /// <summary>Returns a landmark.</summary>
    /// <param name="name">Its name; hyphens and underscores count as blanks, capitals as small letters.</param>
    /// <exception cref="ArgumentException">There is no landmark of that name.</exception>
    public Landmark Landmark(string name)
    {
        string plain = Plain(name);
        return AllLandmarks.FirstOrDefault(l => l.Name == plain) ?? throw new ArgumentException(
            $"The body has no landmark {name}; known are {string.Join(", ", AllLandmarks.Select(l => l.Name))}.", nameof(name));
    }

    /// <summary>Returns a mounting site.</summary>
    /// <param name="name">Its name; hyphens and underscores count as blanks, capitals as small letters.</param>
    /// <exception cref="ArgumentException">There is no site of that name on this body.</exception>
    public Site Site(string name) =>
        Sites.TryGetValue(Plain(name), out Site? site) ? site : throw new ArgumentException(
            $"The body has no mounting site {name}; known are {string.Join(", ", AllSites.Select(s => s.Name))}.", nameof(name));

    private static ImmutableSortedDictionary<string, TValue> ByName<TItem, TValue>(
        IEnumerable<TItem> items, Func<TItem, string> name, Func<TItem, TValue> value) =>
        ImmutableSortedDictionary.CreateRange(
            StringComparer.Ordinal, items.Select(i => KeyValuePair.Create(name(i), value(i))));

    private static string Plain(string name)
    {
        ArgumentNullException.ThrowIfNull(name);
        return name.Trim().Replace('-', ' ').Replace('_', ' ').ToLowerInvariant();
    }
}
