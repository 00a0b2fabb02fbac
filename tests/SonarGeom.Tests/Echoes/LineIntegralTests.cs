using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Transducers;

namespace SonarGeom.Tests.Echoes;

public class LineIntegralTests
{
    public static TheoryData<string, double, bool> Beams => new()
    {
        { "wide piston", 0.0065, false },
        { "narrow piston", 0.0160, false },
        { "wide piston, point by point", 0.0065, true },
        { "narrow piston, point by point", 0.0160, true },
    };

    // Against dense quadrature of the same integral with the same beams: rods from 5 cm to 2 m, at 0.25 to 4 m, any attitude, foot on
    // or off the rod, transmitter and receiver 26 mm apart. Asked: within 0.1 dB wherever the answer is above −20 dB of the largest
    // that this weight can give at that range; below that, within 0.1 dB of that −20 dB level.
    [Theory]
    [MemberData(nameof(Beams))]
    public void Every_way_agrees_with_dense_quadrature(string name, double radius, bool pointByPoint)
    {
        var beam = new CircularPiston(radius);
        PreparedTransducer prepared = new(EchoBench.Part(beam, 0.026, 110), EchoBench.Medium);
        double worst = 0;
        for (int seed = 0; seed < 120; seed++)
        {
            var random = new Random(seed);
            double range = 0.25 * Math.Pow(16, random.NextDouble());
            double length = 0.05 * Math.Pow(40, random.NextDouble());
            Vec3 along = new Vec3(0.6 * (random.NextDouble() - 0.5), (2 * random.NextDouble()) - 1, (2 * random.NextDouble()) - 1).Normalized();
            var middle = new Vec3(range, range * (random.NextDouble() - 0.5), range * (random.NextDouble() - 0.5));
            Vec3 origin = middle - (0.5 * length * along);
            SensorAtPose sensor = EchoBench.At(prepared, Vec3.Zero, 40 * (random.NextDouble() - 0.5), 40 * (random.NextDouble() - 0.5));
            var view = new EchoView(sensor, Vec3.Zero, prepared.Centre);
            var line = new LineIntegral(view, origin, along, 0, length);
            LaneComplex got = line.Evaluate(view, default(SpreadingWeight), 0, pointByPoint ? 1 : null);
            double k = prepared.WavenumberRadiansPerMetre;
            double alpha = prepared.AbsorptionDecibelsPerMetre / 8.685889638065035;
            var (re, im) = line.Reference(
                default(SpreadingWeight), k, alpha, z => sensor.TransmitAmplitude(origin + (z * along)) * sensor.ReceiveAmplitude(origin + (z * along)),
                (int)(20 + (length * k / 4)));
            double exact = Math.Sqrt((re * re) + (im * im));

            // The largest: on the boresight, one whole Fresnel length or the rod's own.
            double least = 0.5 * line.NearestPath;
            double largest = Math.Min(length, Math.Sqrt(0.5 * EchoBench.Wavelength * least)) / (least * least) * Math.Exp(-2 * alpha * least);
            double floor = Math.Max(exact, 0.1 * largest);
            double error = Math.Sqrt(Math.Pow(got.Real[0] - re, 2) + Math.Pow(got.Imaginary[0] - im, 2)) / floor;
            worst = Math.Max(worst, error);
            Assert.True(error < 0.0116, $"{name}, seed {seed}: {20 * Math.Log10(1 + error)} dB at {range} m, {length} m long, exact {exact}, largest {largest}");
        }

        Assert.True(worst > 1e-6, "the two ways are not independent");
    }
}
