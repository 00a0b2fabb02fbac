using System.Numerics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;

namespace SonarGeom.Tests.Echoes.Facets;

public class EdgeCorrectionTests
{
    /// <summary>The exact edge alone, −(ν/4π) ∫ β exp(ik(m + l))/(m l) dz, of every edge that both ends see.</summary>
    private static Complex ExactEdges(TriangleMesh mesh, FacetSensor sensor)
    {
        Complex sum = 0;
        foreach (MeshEdge edge in MeshEdges.Of(mesh).Shared)
        {
            if (edge.TurnRadians < 0.5)
            {
                continue;
            }

            Vec3 along = (edge.EndMetres - edge.StartMetres).Normalized();
            Vec3 tangent = edge.LeftNormal.Cross(along);
            const int Elements = 4000;
            Vec3 step = (edge.EndMetres - edge.StartMetres) / Elements;
            for (int i = 0; i < Elements; i++)
            {
                Vec3 point = edge.StartMetres + ((i + 0.5) * step);
                Vec3 s = sensor.TransmitterMetres - point;
                Vec3 r = sensor.ReceiverMetres - point;
                double Angle(Vec3 v) => (Math.Atan2(v.Dot(edge.LeftNormal), v.Dot(tangent)) + (2 * Math.PI)) % (2 * Math.PI);
                if (Angle(s) > 1.5 * Math.PI || Angle(r) > 1.5 * Math.PI)
                {
                    continue;
                }

                double zs = s.Dot(along);
                double zr = r.Dot(along);
                double across = Math.Sqrt((s.LengthSquared - (zs * zs)) * (r.LengthSquared - (zr * zr)));
                double cosh = ((s.Length * r.Length) + (zs * zr)) / across;
                double beta = WedgeEdge.Beta(2.0 / 3.0, Angle(s), Angle(r), cosh);
                sum += -(2.0 / 3.0) / (4 * Math.PI) * beta / (s.Length * r.Length) * step.Length
                    * Complex.Exp(new Complex(0, TestShapes.Wavenumber * (s.Length + r.Length)));
            }
        }

        return sum;
    }

    // Where no face mirrors, the corrected surface integral must be the exact edges alone: the edges of the surface integral and
    // those that the correction takes away cancel. Seen from 30° to 60° off the faces, box edges only.
    [Theory]
    [InlineData(0.0, 0.0, 0.0)]
    [InlineData(0.03, 0.1, -0.05)]
    [InlineData(-0.1, 0.25, 0.1)]
    public void WithoutAMirrorOnlyTheExactEdgesRemain(double x, double y, double z)
    {
        TriangleMesh box = TestShapes.Box(new Vec3(1.0, 0.5, -0.1), new Vec3(1.15, 0.7, 0.05));
        var sensor = FacetSensor.Omnidirectional(new Vec3(x, y, 0.6 + z), new Vec3(x, y - 0.02, 0.6 + z), TestShapes.SoundSpeed);
        FacetSurface surface = FacetSurface.Of("box", box);
        FrequencyBand band = FrequencyBand.Single(40_000);
        Complex plain = SurfaceIntegral.Evaluate(surface, sensor, band, options: new(4096)).Pressures[0];
        Complex corrected = SurfaceIntegral.Evaluate(surface, sensor, band, options: new(4096, WithEdgeCorrection: true)).Pressures[0];
        Complex exact = ExactEdges(box, sensor);

        // The edges are some 45 dB below a wall; subdivision errs by 1e-4 of a wall (0.4 here).
        Assert.True((corrected - exact).Magnitude < 0.05 * exact.Magnitude + 4e-5, $"corrected {corrected}, exact {exact}, uncorrected {plain}");
        Assert.True((corrected - exact).Magnitude < 0.5 * (plain - exact).Magnitude, $"corrected {corrected}, exact {exact}, uncorrected {plain}");
    }

    [Fact]
    public void TheCorrectionIsReciprocal()
    {
        TriangleMesh box = TestShapes.Box(new Vec3(1.0, 0.1, -0.1), new Vec3(1.15, 0.3, 0.05));
        var sensor = FacetSensor.Omnidirectional(new Vec3(0, 0.1, 0.3), new Vec3(0.1, -0.2, 0.5), TestShapes.SoundSpeed);
        var options = new SurfaceIntegralOptions(WithEdgeCorrection: true);
        FacetSurface surface = FacetSurface.Of("box", box);
        FrequencyBand band = FrequencyBand.Between(38_000, 42_000, 20);
        EchoSpectrum there = SurfaceIntegral.Evaluate(surface, sensor, band, options: options);
        EchoSpectrum back = SurfaceIntegral.Evaluate(surface, sensor.Reversed(), band, options: options);
        double greatest = there.Pressures.Max(p => p.Magnitude);
        Assert.All(Enumerable.Range(0, band.Count), j => Assert.True((there.Pressures[j] - back.Pressures[j]).Magnitude < 1e-9 * greatest));
    }

    // A square sheet struck square on: the mirror is the whole echo, and the correction stays a small part of it.
    [Fact]
    public void TheCorrectionOfAMirrorIsSmall()
    {
        FacetSurface sheet = FacetSurface.Of("sheet", TestShapes.Rectangle(0.3, 0.3), isTwoSided: true);
        var sensor = FacetSensor.Omnidirectional(new Vec3(0.01, 0.02, 1), TestShapes.SoundSpeed);
        FrequencyBand band = FrequencyBand.Between(38_000, 42_000, 8);
        EchoSpectrum plain = SurfaceIntegral.Evaluate(sheet, sensor, band);
        EchoSpectrum corrected = SurfaceIntegral.Evaluate(sheet, sensor, band, options: new(WithEdgeCorrection: true));
        Assert.InRange(Math.Abs(plain.BandMeanDecibels() - corrected.BandMeanDecibels()), 0, 0.3);
    }
}
