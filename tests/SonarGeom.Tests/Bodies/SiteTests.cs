using SonarGeom.Bodies;
using SonarGeom.Geometry;

namespace SonarGeom.Tests.Bodies;

public class SiteTests
{
    public static TheoryData<string> Names => [.. Wearers.Varied.Keys];

    [Theory]
    [MemberData(nameof(Names))]
    public void Sites_are_on_the_skin_and_their_normals_lead_out(string name)
    {
        Body body = Wearers.Build(Wearers.Varied[name]);
        Assert.Equal(body.Has(SegmentId.Cane) ? 39 : 36, body.AllSites.Length);
        foreach (Site site in body.AllSites)
        {
            Assert.Equal(1, site.OutwardNormal.Length, 1e-12);
            TriangleMesh own = body.Segment(site.Segment).Surface;
            Assert.InRange(SurfacePoint.Winding(own, site.PositionMetres - (0.003 * site.OutwardNormal)), 0.99, 1.01);
            RigidTransform world = body.Neutral.WorldFromSegment(site.Segment);
            Vec3 outside = world.ApplyToPoint(site.PositionMetres + (0.003 * site.OutwardNormal));
            foreach (BodySegment segment in body.Segments)
            {
                // The thighs of a seated wearer hide the front of the belt of the heaviest; a seat hides the back.
                if (body.Has(SegmentId.Seat) && (segment.Id is SegmentId.Seat || site.Segment is SegmentId.Pelvis))
                {
                    continue;
                }

                double winding = SurfacePoint.Winding(body.Neutral.Mesh(segment.Id), outside);
                Assert.True(Math.Abs(winding) < 0.01, $"{name}: {site.Name} is inside the {segment.Id}");
            }
        }
    }

    [Theory]
    [InlineData("brow", 1, 0, 0)]
    [InlineData("crown", 0, 0, 1)]
    [InlineData("temple left", 0, 1, 0)]
    [InlineData("sternum", 1, 0, 0)]
    [InlineData("chest right", 1, 0, 0)]
    [InlineData("back", -1, 0, 0)]
    [InlineData("belt front", 1, 0, 0)]
    [InlineData("belt right", 0, -1, 0)]
    [InlineData("shin left", 1, 0, 0)]
    [InlineData("shoe toe left", 1, 0, 0)]
    [InlineData("wrist left", 0, 1, 0)]
    [InlineData("shoulder top left", 0, 0, 1)]
    public void Sites_look_where_their_names_say(string name, double x, double y, double z) =>
        Assert.True(Wearers.MedianMan.Site(name).OutwardNormal.Dot(new Vec3(x, y, z)) > 0.7);

    [Fact]
    public void Brow_is_above_the_eyes_and_below_the_crown()
    {
        Body body = Wearers.MedianMan;
        double z = body.Neutral.WorldFromSegment(SegmentId.Head).ApplyToPoint(body.Site("brow").PositionMetres).Z;
        Assert.InRange(z, body.Landmarks["eye"].Z + 0.03, body.Landmarks["crown"].Z - 0.04);
    }
}
