using SonarGeom.Coverage;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Tests.Coverage;

public class ContactTests
{
    private static PosedLayout Man => CoverageBench.OnMan;

    [Fact]
    public void A_pole_ahead_is_touched_by_the_foremost_point_of_its_columns()
    {
        Contact contact = Contact.Of(Man, Obstacle.Pole("pole", new Vec3(5, 0.10, 0), 0.08, 3));
        Assert.True(contact.IsOnCourse);

        // The pole's front is at 5 − 0.04 m on its middle line, farther on its sides: the wearer's own depth there decides.
        double depth = Enumerable.Range(0, 200).Max(row => Enumerable.Range(6, 8).Max(column =>
        {
            double y = (column + 0.5) * 0.01, z = (row + 0.5) * 0.01;
            double sag = 0.04 - Math.Sqrt(Math.Max(0, (0.04 * 0.04) - ((y - 0.10) * (y - 0.10))));
            return Man.Silhouette.ForemostXMetres(y, z) is { } x ? x - sag : double.NegativeInfinity;
        }));

        // Tolerance: the pole's mesh has 32 sides, up to 0.2 mm inside the circle.
        Assert.Equal(4.96 - depth, contact.WalkerXMetres, 5e-4);
        Assert.Equal(0.10, contact.MiddleYMetres, 1e-9);
        Assert.InRange(contact.HighZMetres, 0.9 * Man.Body.CrownHeightMetres, Man.TopMetres);
    }

    [Fact]
    public void A_board_above_the_head_is_not_on_course_and_one_below_the_crown_is()
    {
        double top = Man.Silhouette.TopMetres;
        Assert.False(Contact.Of(Man, Obstacle.Board("high", new Vec3(4, 0, top + 0.02 + 0.10), 0.6, 0.20)).IsOnCourse);
        Contact low = Contact.Of(Man, Obstacle.Board("low", new Vec3(4, 0, top - 0.03 + 0.10), 0.6, 0.20));
        Assert.True(low.IsOnCourse);
        Assert.Equal(HeightBand.Head, Man.BandAt(low.LowZMetres));
    }

    [Fact]
    public void A_step_down_is_on_course_when_it_crosses_the_stance_and_reached_by_the_toes()
    {
        Contact ahead = Contact.Of(Man, Obstacle.StepDown("edge", new Vec3(5, 0, 0), 0.15, 3));
        Assert.True(ahead.IsOnCourse);
        Assert.Equal(5 - Man.ForemostXMetres(0, 0.06, Man.HalfWidthMetres, 0.06), ahead.WalkerXMetres, 1e-9);
        Assert.False(Contact.Of(Man, Obstacle.StepDown("beside", new Vec3(5, 2, 0), 0.15, 1)).IsOnCourse);
    }

    [Fact]
    public void What_stands_a_metre_to_the_side_is_passed_beside()
    {
        foreach (double y in new[] { 1.0, -1.0 })
        {
            Contact contact = Contact.Of(Man, Obstacle.Pole("pole", new Vec3(5, y, 0), 0.114, 5));
            Assert.False(contact.IsOnCourse);
            Assert.Equal(y, contact.MiddleYMetres, 1e-3);
        }
    }

    [Fact]
    public void A_kerb_is_touched_by_the_feet()
    {
        Contact contact = Contact.Of(Man, Obstacle.KerbUp("kerb", new Vec3(5, 0, 0), 0.12, 3));
        Assert.True(contact.IsOnCourse);
        Assert.Equal((HeightBand.Foot, HeightBand.Foot), (Man.BandAt(contact.LowZMetres), Man.BandAt(contact.HighZMetres)));
        Assert.True(contact.HighZMetres <= 0.12 && contact.BodyXMetres <= Man.Silhouette.ForemostMetres);
        Assert.InRange(contact.WalkerXMetres, 5 - Man.Silhouette.ForemostMetres, 5);
    }

    // A wire across the path is thinner than the silhouette's cells: it must not slip between two rays and be called harmless.
    [Theory]
    [InlineData(0.0005)]
    [InlineData(0.003)]
    [InlineData(0.006)]
    [InlineData(0.012)]
    public void A_thin_wire_across_the_path_is_on_course_at_every_height(double diameter)
    {
        for (double z = 1.500; z < 1.510; z += 0.0007)
        {
            Assert.True(Contact.Of(Man, Obstacle.Bar("wire", new Vec3(4, 0, z), diameter, 2)).IsOnCourse, $"{z:0.0000} m");
        }

        Obstacle slanting = Obstacle.Bar("guy wire", new Vec3(4, 0, 1.2), diameter, 3) with { Roll = Angle.FromDegrees(50) };
        Assert.True(Contact.Of(Man, slanting).IsOnCourse);
    }

    public static TheoryData<ObstacleKind> Kinds => [.. Echoes.RandomObstacles.Kinds];

    [Theory]
    [MemberData(nameof(Kinds))]
    public void Every_kind_of_obstacle_is_met_ahead_and_passed_three_metres_aside(ObstacleKind kind)
    {
        bool hangs = kind is ObstacleKind.Bar or ObstacleKind.Board or ObstacleKind.Sign or ObstacleKind.Sphere or ObstacleKind.Awning or ObstacleKind.TailGate
            or ObstacleKind.StairUnderside or ObstacleKind.Chain;
        bool isStep = kind is ObstacleKind.KerbUp or ObstacleKind.StepDown or ObstacleKind.Stairs;
        var obstacle = new Obstacle("thing", kind, new Vec3(5, 0, hangs ? 1.6 : 0))
        {
            WidthMetres = 1.0,
            HeightMetres = isStep ? 0.15 : 0.9,
            DepthMetres = 0.3,
            DiameterMetres = kind is ObstacleKind.Pole or ObstacleKind.Bollard or ObstacleKind.Sphere ? 0.2 : 0.02,
            StepCount = 3,
            LeafRadiusMetres = kind == ObstacleKind.Foliage ? 0.02 : 0,
            LeavesPerCubicMetre = kind == ObstacleKind.Foliage ? 1000 : 0,
        };
        Contact ahead = Contact.Of(Man, obstacle);
        Assert.True(ahead.IsOnCourse);
        Assert.InRange(ahead.WalkerXMetres, 4.3, 5.05);
        Assert.InRange(ahead.HighZMetres, ahead.LowZMetres, 2);
        Assert.Equal(0, ahead.MiddleYMetres, 1e-6);
        Assert.False(Contact.Of(Man, obstacle.MovedBy(new Vec3(0, 3, 0))).IsOnCourse);
        Assert.False(Contact.Of(Man, obstacle.MovedBy(new Vec3(0, -3, 0))).IsOnCourse);
    }

    // The lip of an awning hangs below its sheet: a head that clears the sheet by less meets the lip.
    [Fact]
    public void The_round_lip_of_a_sheet_is_part_of_it()
    {
        var awning = new Obstacle("awning", ObstacleKind.Awning, new Vec3(5, 0, Man.Silhouette.TopMetres + 0.015)) { WidthMetres = 2, DepthMetres = 1 };
        Assert.False(Contact.Of(Man, awning).IsOnCourse);
        Assert.True(Contact.Of(Man, awning with { DiameterMetres = 0.06 }).IsOnCourse);
    }

    [Fact]
    public void The_mirror_of_an_obstacle_is_touched_at_the_same_distance()
    {
        foreach ((double y, double z) in new[] { (0.13, 1.6), (0.21, 1.0), (0.07, 0.3), (0.30, 1.3) })
        {
            Contact left = Contact.Of(Man, Obstacle.Sphere("ball", new Vec3(3, y, z), 0.25));
            Contact right = Contact.Of(Man, Obstacle.Sphere("ball", new Vec3(3, -y, z), 0.25));
            Assert.Equal(left.IsOnCourse, right.IsOnCourse);

            // Rays reach the two meshes through differently grouped triangles: 1e-8 m is rounding there.
            Assert.Equal(left.WalkerXMetres, right.WalkerXMetres, 1e-8);
            Assert.Equal(left.MiddleYMetres, -right.MiddleYMetres, 1e-9);
        }
    }

    [Fact]
    public void Moving_an_obstacle_along_the_path_moves_the_contact_as_far()
    {
        Obstacle sign = Obstacle.Board("sign", new Vec3(4, 0.2, 1.7), 0.5, 0.4);
        Contact near = Contact.Of(Man, sign), far = Contact.Of(Man, sign.MovedBy(new Vec3(31.7, 0, 0)));
        Assert.Equal(near.WalkerXMetres + 31.7, far.WalkerXMetres, 1e-9);
        Assert.Equal((near.LowZMetres, near.HighZMetres, near.BodyXMetres), (far.LowZMetres, far.HighZMetres, far.BodyXMetres));
    }
}
