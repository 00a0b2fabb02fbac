using System.Collections.Immutable;
using System.Text;
using CsCheck;
using SonarGeom.Files.Catalogue;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Faults;
using SonarGeom.Files.Tables;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Files.Tests.Tables;

public sealed class ObstacleTableTests
{
    [Fact]
    public void EachKindIsReadWithItsSizes()
    {
        ImmutableArray<Obstacle> all = Read("""
            id,kind,x_m,y_m,z_m,roll_deg,length_m,width_m,height_m,depth_m,diameter_m,cap,cap_rise_m,sag_m,riser_m,going_m,steps,roughness_mm,closing_speed_m_s
            pole,pole,2,0.1,,,,,3,,0.08,,,,,,,,
            bar,bar,2,0,1.7,-5,1.2,,,,0.03,,,,,,,,
            stairs,stairs,4,0,,,,1.4,,,,,,,0.16,0.29,5,2,
            bollard,bollard,2,0,,,,,1,,0.15,domed,0.04,,,,,,
            chain,chain,2,0,0.8,,2,,,,0.02,,,0.2,,,,,1.5
            """);
        Assert.Equal(0.08, all[0].DiameterMetres);
        Assert.Equal((1.2, 0.03), (all[1].WidthMetres, all[1].DiameterMetres));
        Assert.Equal(-5, all[1].Roll.Degrees, 12);
        Assert.Equal((0.16, 0.29, 5), (all[2].HeightMetres, all[2].DepthMetres, all[2].StepCount));
        Assert.Equal(0.002, all[2].RoughnessRmsMetres!.Value, 12);
        Assert.Equal((CapShape.Domed, 0.04), (all[3].Cap, all[3].CapSizeMetres));
        Assert.Equal((2.0, 0.2, 1.5), (all[4].WidthMetres, all[4].SagMetres, all[4].ClosingSpeedMetresPerSecond));
    }

    [Theory]
    [InlineData("a,pole,2,0,3,", "diameter_m", "diameter_m is missing; a pole must have height_m, diameter_m.")]
    [InlineData("a,pole,2,0,3,0", "diameter_m", "diameter_m is 0; it must be a number above 0 and at most 200.")]
    [InlineData("a,pole,2,0,-3,0.1", "height_m", "height_m is -3; it must be a number above 0 and at most 200.")]
    [InlineData("a,sphere,2,0,3,0.1", "height_m", "height_m is given, but a sphere has none; it must have diameter_m.")]
    [InlineData("a,poles,2,0,3,0.1", "kind", "kind is poles; it must be one of pole, bar, sphere, board, wall, box, kerb_up, step_down, stairs, sign, awning, stair_underside, bollard, chain, tail_gate, wall_floor_corner, mesh, foliage.")]
    [InlineData(",pole,2,0,3,0.1", "id", "id is empty; it must be a text of 1 to 60 characters, not blank.")]
    [InlineData("a,pole,2000,0,3,0.1", "x_m", "x_m is 2000; it must be a number from -200 to 200.")]
    public void EachWrongRowIsOneSentence(string row, string column, string message)
    {
        Fault fault = Assert.Single(FaultsOf($"id,kind,x_m,y_m,height_m,diameter_m\nfirst,pole,1,0,3,0.1\n{row}\n"));
        Assert.Equal(new Fault("t.csv", 3, null, column, message), fault);
    }

    [Fact]
    public void TwoObstaclesOfOneNameAreTold() =>
        Assert.Equal(
            "t.csv:3: id is a, as in line 2; each obstacle must have its own.",
            Assert.Single(FaultsOf("id,kind,x_m,y_m,diameter_m\na,sphere,1,0,0.1\na,sphere,2,0,0.1\n")).ToString());

    [Fact]
    public void SizesThatDoNotFitOneAnotherAreTold() =>
        Assert.Equal(
            "t.csv:2: Obstacle 'a' (Bollard): rise of the domed cap is 0.2 m; it must be from 0 to 0.05 m.",
            Assert.Single(FaultsOf("id,kind,x_m,y_m,height_m,diameter_m,cap,cap_rise_m\na,bollard,1,0,1,0.1,domed,0.2\n")).ToString());

    [Fact]
    public void AllFaultsOfATableAreTold()
    {
        ImmutableArray<Fault> faults = FaultsOf("id,kind,x_m,y_m,height_m,diameter_m\na,pole,x,0,3,0.1\nb,pole,1,y,3,0.1\nc,pole,1,0,3,0.1\nd,pole,1,0,,\n");
        Assert.Equal([2, 3, 5, 5], faults.Select(f => f.Line));
    }

    [Fact]
    public void AMillionRowsAreRefusedWithoutKeepingThem()
    {
        StringBuilder text = new("id,kind,x_m,y_m,diameter_m\n");
        for (int i = 0; i < 1_000_000; i++)
        {
            text.Append(System.Globalization.CultureInfo.InvariantCulture, $"o{i},sphere,1.5,0.25,0.1\n");
        }

        string table = text.ToString();
        long before = GC.GetAllocatedBytesForCurrentThread();
        Assert.Equal("t.csv:100002: The table has more than 100000 rows; at most 100000 are read.", Assert.Single(FaultsOf(table)).ToString());
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 600_000_000);
    }

    [Fact]
    public void WhatIsWrittenReadsBackAsTheSame()
    {
        foreach (string set in ShippedCatalogue.ObstacleSets)
        {
            AssertRoundTrip(InputFiles.ReadObstacles(set));
        }

        Gen.Double[-100, 100].Array[9].Sample(n => AssertRoundTrip(
        [
            new Obstacle("a, \"b\"", ObstacleKind.Box, new Vec3(n[0], n[1], n[2]))
            {
                Yaw = Angle.FromDegrees(n[3]),
                WidthMetres = Math.Abs(n[4]) + 1e-3,
                HeightMetres = Math.Abs(n[5]) + 1e-3,
                DepthMetres = Math.Abs(n[6]) + 1e-3,
                ReflectionLossDecibels = Math.Abs(n[7]),
                RoughnessRmsMetres = Math.Abs(n[8]) / 1000,
                Note = "two\nlines, and a comma",
            },
        ]), iter: 100, seed: "0000000000001");
    }

    [Fact]
    public void PosesAreReadWithTheirObstacles()
    {
        FaultList faults = new();
        PosedCase one = Assert.Single(PoseTable.Read(
            InputText.FromText("t.csv", "id,kind,x_m,y_m,diameter_m,height_m,sensor_z_m,sensor_tilt_deg,transducer\npole,pole,2,0,0.075,2,1.2,-10,swift-narrow-40\n"), faults));
        Assert.False(faults.Any);
        Assert.Equal(new Vec3(0, 0, 1.2), one.SensorPositionMetres);
        Assert.Equal(-10, one.Tilt.Degrees, 12);
        Assert.Equal("swift-narrow-40", one.TransducerName);
        Assert.Equal(0.075, one.Obstacle.DiameterMetres);
    }

    private static void AssertRoundTrip(ImmutableArray<Obstacle> obstacles)
    {
        using MemoryStream stream = new();
        ObstacleTable.Write(stream, obstacles);
        ImmutableArray<Obstacle> back = Read(Encoding.UTF8.GetString(stream.ToArray()));
        Assert.Equal(obstacles.Length, back.Length);
        foreach ((Obstacle was, Obstacle now) in obstacles.Zip(back))
        {
            // Twelve digits are written.
            Assert.True(was.PositionMetres.DistanceTo(now.PositionMetres) < 1e-9);
            Assert.Equal(was.Yaw.Degrees, now.Yaw.Degrees, 1e-9);
            Assert.Equal(was.WidthMetres, now.WidthMetres, 1e-9);
            Assert.Equal(was.RoughnessRmsMetres ?? -1, now.RoughnessRmsMetres ?? -1, 1e-9);
            Obstacle plain = now with
            {
                PositionMetres = was.PositionMetres,
                Yaw = was.Yaw,
                Pitch = was.Pitch,
                Roll = was.Roll,
                WidthMetres = was.WidthMetres,
                HeightMetres = was.HeightMetres,
                DepthMetres = was.DepthMetres,
                ReflectionLossDecibels = was.ReflectionLossDecibels,
                RoughnessRmsMetres = was.RoughnessRmsMetres,
            };
            Assert.Equal(was, plain);
        }
    }

    private static ImmutableArray<Obstacle> Read(string text)
    {
        FaultList faults = new();
        ImmutableArray<Obstacle> obstacles = ObstacleTable.Read(InputText.FromText("t.csv", text), new DocumentStore(), faults);
        faults.ThrowIfAny();
        return obstacles;
    }

    private static ImmutableArray<Fault> FaultsOf(string text) => Assert.Throws<InvalidInputException>(() => Read(text)).Faults;
}
