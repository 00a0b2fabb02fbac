using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Tests.Echoes;

public class OcclusionTests
{
    private static readonly double Wavelength = EchoBench.Wavelength;

    [Fact]
    public void Nothing_in_the_way_takes_nothing() =>
        Assert.Equal(1, Occlusion.FreeShare(new Slab(5, _ => true), Vec3.Zero, new Vec3(2, 0, 0), Wavelength));

    // A straight screen up to the axis leaves half the amplitude, wherever it stands along the path (Fresnel's knife edge, −6 dB).
    [Theory]
    [InlineData(0.5)]
    [InlineData(1.0)]
    [InlineData(1.6)]
    public void A_screen_up_to_the_axis_leaves_one_half(double x)
    {
        Assert.Equal(0.5, Occlusion.FreeShare(new Slab(x, p => p.Y > 0), Vec3.Zero, new Vec3(2, 0, 0), Wavelength), 1e-9);
        Assert.Equal(0.5, Occlusion.FreeShare(new Slab(x, p => p.Z < 0), Vec3.Zero, new Vec3(2, 0, 0), Wavelength), 1e-9);
    }

    // First Fresnel zone half way along 2 m at 40 kHz: √(λ·1·1/2) = 65 mm.
    [Fact]
    public void A_blocker_narrower_than_the_zone_attenuates_and_never_blanks()
    {
        double last = 1;
        for (double half = 0.002; half < 0.06; half += 0.002)
        {
            double share = Occlusion.FreeShare(new Slab(1, p => Math.Abs(p.Y) < half), Vec3.Zero, new Vec3(2, 0, 0), Wavelength);
            Assert.True(share > 0 && share <= last, $"{half} m: {share} after {last}");
            last = share;
        }

        Assert.True(last < 0.3);
        Assert.Equal(0, Occlusion.FreeShare(new Slab(1, p => Math.Abs(p.Y) < 0.2), Vec3.Zero, new Vec3(2, 0, 0), Wavelength));
    }

    [Fact]
    public void Mirrored_blockers_take_the_same()
    {
        for (int i = -10; i <= 10; i++)
        {
            double edge = 0.007 * i;
            double left = Occlusion.FreeShare(new Slab(0.8, p => p.Y > edge), new Vec3(0, 0.02, 1), new Vec3(1.7, 0.1, 0.7), Wavelength);
            double right = Occlusion.FreeShare(new Slab(0.8, p => p.Y < -edge), new Vec3(0, -0.02, 1), new Vec3(1.7, -0.1, 0.7), Wavelength);
            Assert.Equal(left, right);
        }
    }

    [Fact]
    public void The_gaps_at_both_ends_are_not_looked_at()
    {
        Assert.Equal(1, Occlusion.FreeShare(new Slab(0.02, _ => true), Vec3.Zero, new Vec3(2, 0, 0), Wavelength, nearGapMetres: 0.03));
        Assert.Equal(1, Occlusion.FreeShare(new Slab(1.99, _ => true), Vec3.Zero, new Vec3(2, 0, 0), Wavelength));
        Assert.Equal(0, Occlusion.FreeShare(new Slab(0.02, _ => true), Vec3.Zero, new Vec3(2, 0, 0), Wavelength));
    }

    [Fact]
    public void Verdicts_name_who_is_in_the_way()
    {
        SensorAtPose sensor = EchoBench.At(new PreparedTransducer(EchoBench.WithFigureOfMerit(new SonarGeom.Transducers.CircularPiston(0.0065), 29), EchoBench.Medium), Vec3.Zero);
        ImmutableArray<TargetPart> wall = [new PlanePart("wall", new Vec3(2, 0, 0), -Vec3.UnitX)];
        var blocker = new Slab(0.5, _ => true);
        Assert.Equal(LimitingCause.None, EchoExplainer.Explain(sensor, wall, default, EchoSurroundings.Open).Cause);
        Assert.Equal(LimitingCause.OccludedByWearer, EchoExplainer.Explain(sensor, wall, default, new EchoSurroundings(Wearer: blocker)).Cause);
        Assert.Equal(LimitingCause.OccludedByObstacle, EchoExplainer.Explain(sensor, wall, default, new EchoSurroundings(OtherObstacles: blocker)).Cause);
        LevelBudget half = EchoExplainer.Explain(sensor, wall, default, new EchoSurroundings(OtherObstacles: new Slab(1, p => p.Z > 0)));
        Assert.Equal(-12.04, half.ObstacleOcclusionDecibels, 0.01);
        Assert.Equal(half.SumOfLinesDecibels, half.EchoLevelDecibels, 1e-9);
    }

    /// <summary>A sheet across the way at one x, solid where asked.</summary>
    private sealed class Slab(double x, Func<Vec3, bool> isSolid) : IRayScene
    {
        public bool AnyHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres)
        {
            double t = (x - origin.X) / unitDirection.X;
            return t >= nearMetres && t <= farMetres && isSolid(origin + (t * unitDirection));
        }

        public RayHit? ClosestHit(Vec3 origin, Vec3 unitDirection, double nearMetres, double farMetres) =>
            AnyHit(origin, unitDirection, nearMetres, farMetres) ? new RayHit((x - origin.X) / unitDirection.X, 0, 0) : null;
    }
}
