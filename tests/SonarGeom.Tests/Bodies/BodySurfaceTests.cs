using SonarGeom.Bodies;
using SonarGeom.Geometry;

namespace SonarGeom.Tests.Bodies;

public class BodySurfaceTests
{
    public static TheoryData<string> Names => [.. Wearers.Varied.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Every_part_is_closed_and_faces_outwards(string name)
    {
        Body body = Wearers.Build(Wearers.Varied[name]);
        foreach (BodySegment segment in body.Segments)
        {
            TriangleMesh mesh = segment.Surface;
            Assert.All(mesh.Vertices, v => Assert.True(v.IsFinite));

            // Closed and of one sense: every edge is walked once each way.
            HashSet<(int From, int To)> edges = [];
            foreach (Facet f in mesh.Facets)
            {
                Assert.True(edges.Add((f.A, f.B)) && edges.Add((f.B, f.C)) && edges.Add((f.C, f.A)), $"{segment.Id}: an edge is walked twice the same way");
                Vec3 a = mesh.Vertices[f.A];
                double doubled = (mesh.Vertices[f.B] - a).Cross(mesh.Vertices[f.C] - a).Length;
                Assert.True(doubled > 1e-9, $"{segment.Id}: a facet has no area");
            }

            Assert.All(edges, e => Assert.Contains((e.To, e.From), edges));
            Assert.True(Volume(mesh) > 0, $"{segment.Id} is inside out");
        }
    }

    [Fact]
    public void Body_without_aids_has_a_moderate_number_of_facets() =>
        Assert.InRange(Wearers.MedianMan.Segments.Sum(s => s.Surface.Facets.Length), 3000, 7000);

    [Theory]
    [MemberData(nameof(Names))]
    public void Body_without_cane_is_its_own_mirror_image_exactly(string name)
    {
        WearerSpec spec = Wearers.Varied[name] with { CaneSide = null };
        Body body = Wearers.Build(spec);
        foreach (PosedBody posed in new[] { body.Neutral, body.Still })
        {
            foreach (BodySegment segment in body.Segments)
            {
                HashSet<Vec3> mirrored = [.. posed.Mesh(Segments.Mirrored(segment.Id)).Vertices.Select(v => v.MirroredLeftRight())];
                Assert.All(posed.Mesh(segment.Id).Vertices, v => Assert.Contains(v, mirrored));
            }
        }

        foreach (Site site in body.AllSites.Where(s => s.Name.EndsWith(" left", StringComparison.Ordinal)))
        {
            Site other = body.Site(site.Name[..^4] + "right");
            Assert.Equal(site.PositionMetres.MirroredLeftRight(), other.PositionMetres);
            Assert.Equal(site.OutwardNormal.MirroredLeftRight(), other.OutwardNormal);
        }
    }

    [Fact]
    public void A_cane_on_the_other_side_gives_the_mirror_image_exactly()
    {
        Body left = Wearers.Build(Wearers.Man with { CaneSide = BodySide.Left });
        Body right = Wearers.Build(Wearers.Man with { CaneSide = BodySide.Right });
        foreach (BodySegment segment in left.Segments)
        {
            HashSet<Vec3> mirrored = [.. right.Neutral.Mesh(Segments.Mirrored(segment.Id)).Vertices.Select(v => v.MirroredLeftRight())];
            Assert.All(left.Neutral.Mesh(segment.Id).Vertices, v => Assert.Contains(v, mirrored));
        }

        RigidTransform a = left.Neutral.WorldFromSegment(SegmentId.Cane);
        RigidTransform b = right.Neutral.WorldFromSegment(SegmentId.Cane);
        Assert.Equal(a.Translation, b.Translation.MirroredLeftRight());
        Assert.Equal(a.Rotation.AxisX, b.Rotation.AxisX.MirroredLeftRight());
    }

    [Theory]
    [MemberData(nameof(Names))]
    public void Surface_has_the_tabled_breadths_and_depths(string name)
    {
        Body body = Wearers.Build(Wearers.Varied[name] with { Wheelchair = null });
        BodyDimensions d = body.Dimensions;
        double sole = body.Skeleton.FootwearMetres;
        Check(SegmentId.Thorax, d[BodyMeasure.ChestHeight], d[BodyMeasure.ChestBreadth], d[BodyMeasure.ChestDepth]);
        Check(SegmentId.Pelvis, d[BodyMeasure.TrochanterionHeight], d[BodyMeasure.HipBreadth], d[BodyMeasure.ButtockDepth]);
        Check(SegmentId.Thorax, d[BodyMeasure.WaistHeight] + 1e-6, d[BodyMeasure.WaistBreadth], d[BodyMeasure.WaistDepth]);

        TriangleMesh head = body.Segment(SegmentId.Head).Surface;
        Vec3 joint = body.Skeleton[SegmentId.Head];
        Assert.Equal(d.StatureMetres + sole, head.Vertices.Max(v => v.Z) + joint.Z, 1e-9);
        Assert.Equal(d[BodyMeasure.ChinHeight] + sole, head.Vertices.Min(v => v.Z) + joint.Z, 1e-9);

        // The nose and the ears stand out beyond head length and breadth, the ear by what is tabled for it.
        Assert.InRange(head.Vertices.Max(v => v.Y) - head.Vertices.Min(v => v.Y), d[BodyMeasure.HeadBreadth], d[BodyMeasure.HeadBreadth] + 0.05);
        Assert.InRange(head.Vertices.Max(v => v.X) - head.Vertices.Min(v => v.X), d[BodyMeasure.HeadLength], d[BodyMeasure.HeadLength] + 0.04);

        void Check(SegmentId id, double height, double breadth, double depth)
        {
            Vec3 axis = new Vec3(0, 0, height + sole) - body.Skeleton[id];
            TriangleMesh mesh = body.Segment(id).Surface;


            // The widest place of the section lies somewhat ahead of or behind the joint.
            double middle = mesh.Vertices.Where(v => Math.Abs(v.Z - axis.Z) < 1e-5).MaxBy(v => v.Y).X;
            double Reach(Vec3 way)
            {
                Vec3 at = way.X == 0 ? axis with { X = middle } : axis;
                return (SurfacePoint.Outermost(mesh, at, way).Position - at).Dot(way);
            }


            Assert.Equal(breadth, Reach(Vec3.UnitY) + Reach(-Vec3.UnitY), 1e-6);
            Assert.Equal(depth, Reach(Vec3.UnitX) + Reach(-Vec3.UnitX), 1e-6);
        }
    }

    // Whole-body density with air in the lungs is near 1000 kg/m³ (0.97 to 1.07 from full to empty lungs, common practice).
    // Nothing in the surface was fitted to the mass, so that this checks girths, lengths and shapes together; 12 % is what
    // ellipses may miss of a real body.
    [Theory]
    [InlineData("median man")]
    [InlineData("median woman")]
    [InlineData("heavy man")]
    [InlineData("thin man")]
    [InlineData("girl of ten")]
    [InlineData("youth of seventeen")]
    public void Volume_weighs_what_the_wearer_weighs(string name)
    {
        Body body = Wearers.Build(Wearers.Varied[name] with { FootwearMetres = 0 });
        double mass = 1000 * BodyVolume.OfUnion(body.Neutral, 0.01);
        Assert.InRange(mass, 0.88 * body.Dimensions.MassKilograms, 1.12 * body.Dimensions.MassKilograms);
    }

    private static double Volume(TriangleMesh mesh) =>
        mesh.Facets.Sum(f => mesh.Vertices[f.A].Dot(mesh.Vertices[f.B].Cross(mesh.Vertices[f.C]))) / 6;
}
