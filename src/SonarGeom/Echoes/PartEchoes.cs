using System.Runtime.Intrinsics;
using SonarGeom.Echoes.Facets;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>
/// Echoes of single parts by closed forms that hold from near to far field, for transmitter and receiver at their own places. No
/// allocation: maps and verdicts call the same code. Meshes have no closed form and take the surface integral; the level of foliage is the one that nine pings in ten exceed.
/// </summary>
/// <remarks>
/// Level = source level + burst build-up + 20 log|p| − losses, p the pressure at the receiver for a source of unit pressure at 1 m,
/// with both beams, spreading, absorption and roughness inside p (sonar equation; Urick, Principles of Underwater Sound, 3rd ed.,
/// ch. 2 and 9, from memory). The band mean is the mean of |p|² over the burst with the power weights of its spectrum.
/// </remarks>
public static class PartEchoes
{
    /// <summary>Returns the echo of a part, band mean and nominal frequency.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The part.</param>
    /// <param name="partOffset">Displacement of the part from where it is defined. [m]</param>
    public static PartEcho Evaluate(SensorAtPose sensor, TargetPart part, Vec3 partOffset = default)
    {
        ArgumentNullException.ThrowIfNull(sensor);
        ArgumentNullException.ThrowIfNull(part);
        if (part is MeshPart mesh)
        {
            return MeshEcho.Evaluate(sensor, mesh, partOffset);
        }

        if (part is FoliagePart foliage)
        {
            return FoliageEcho.AsPart(sensor, foliage, partOffset);
        }

        LaneBlock band = sensor.Prepared.Band;
        Vector512<double> power = Power(sensor, part, partOffset, band, out EchoPath path);
        if (path.IsSilent)
        {
            return new PartEcho(PartEcho.SilentDecibels, PartEcho.SilentDecibels, 0, path.Point + partOffset, 0, 0, false);
        }

        LaneBlock centre = sensor.Prepared.Centre;
        Vector512<double> tone = Power(sensor, part, partOffset, centre, out _);
        Vec3 glint = path.Point + partOffset;
        return new PartEcho(
            Level(sensor, part, power, band), Level(sensor, part, tone, centre), path.Range, glint,
            sensor.TransmitAmplitude(glint), sensor.ReceiveAmplitude(glint), path.IsSpecular);
    }

    /// <summary>Returns the band-mean echo of a part alone: half the work.</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The part.</param>
    /// <param name="partOffset">Displacement of the part from where it is defined. [m]</param>
    public static BandEcho EvaluateBand(SensorAtPose sensor, TargetPart part, Vec3 partOffset) => EvaluateBand(sensor, part, partOffset, out _);

    /// <summary>The same, with the point that answers. [m]</summary>
    /// <param name="sensor">The sensor.</param>
    /// <param name="part">The part.</param>
    /// <param name="partOffset">Displacement of the part from where it is defined. [m]</param>
    /// <param name="glintMetres">The point. [m]</param>
    /// <param name="gross">Takes what tells how far a turn can change the echo, if the part is simple; see <see cref="IsBounded"/>.</param>
    internal static BandEcho EvaluateBand(SensorAtPose sensor, TargetPart part, Vec3 partOffset, out Vec3 glintMetres, GrossSum? gross = null)
    {
        if (part is MeshPart mesh)
        {
            PartEcho echo = MeshEcho.Evaluate(sensor, mesh, partOffset);
            glintMetres = echo.GlintMetres;
            return new BandEcho(echo.BandLevelDecibels, echo.RangeMetres);
        }

        if (part is FoliagePart foliage)
        {
            FoliageLevels levels = FoliageEcho.Evaluate(sensor, foliage, partOffset);
            glintMetres = levels.GlintMetres;
            return new BandEcho(levels.NineInTenDecibels, levels.RangeMetres);
        }

        LaneBlock band = sensor.Prepared.Band;
        LaneComplex pressure = Pressure(new EchoView(sensor, partOffset, band, gross), part, out EchoPath path);
        glintMetres = path.Point + partOffset;
        if (path.IsSilent)
        {
            return new BandEcho(PartEcho.SilentDecibels, 0);
        }

        gross?.Complete(pressure, band.PowerWeights, sensor.Transducer.SourceLevelDecibels + sensor.Prepared.Spectrum.BuildUpDecibels);
        return new BandEcho(Level(sensor, part, pressure.Power, band), path.Range);
    }

    /// <summary>Whether bounds on the echo of a part can be had: a single rod, plate or sphere before beams that are the same all round.</summary>
    internal static bool IsBounded(SensorAtPose sensor, TargetPart part) => part is CylinderPart or PolygonPart or SpherePart && sensor.Prepared.Band.IsAxial;

    /// <summary>The complex pressures for a source of unit pressure at 1 m, material loss left out.</summary>
    internal static LaneComplex Pressure(in EchoView view, TargetPart part, out EchoPath path)
    {
        LaneComplex pressure = part switch
        {
            CylinderPart rod => RodEcho.Cylinder(view, rod, out path),
            PolygonPart plate => PlateEcho.Polygon(view, plate, out path),
            SpherePart sphere => RoundEcho.Sphere(view, sphere, out path),
            CornerPart corner => CornerEcho.Corner(view, corner, out path),
            PoleFootPart foot => CornerEcho.PoleFoot(view, foot, out path),
            EdgePart edge => EdgeEcho.Edge(view, edge, out path),
            DiscPart disc => DiscEcho.Disc(view, disc, out path),
            DomePart dome => RoundEcho.Dome(view, dome, out path),
            ConePart cone => RodEcho.Cone(view, cone, out path),
            RimPart rim => EdgeEcho.Rim(view, rim, out path),
            RopePart rope => RodEcho.Rope(view, rope, out path),
            PlanePart plane => PlateEcho.Plane(view, plane, out path),
            _ => throw new ArgumentException($"Part '{part.Name}' is of a kind without a closed form.", nameof(part)),
        };
        if (part.RoughnessRmsMetres > 0 && part is not (CornerPart or PoleFootPart))
        {
            // exp(−Γ²/2), Γ = 2kσ: struck square on where it glints.
            Vector512<double> k = view.Block.Wavenumbers;
            Vector512<double> rough = Vector512.Exp(k * k * (-2 * part.RoughnessRmsMetres * part.RoughnessRmsMetres));
            pressure *= rough;
            view.Gross?.Multiply(rough);
        }

        return pressure;
    }

    private static Vector512<double> Power(SensorAtPose sensor, TargetPart part, Vec3 partOffset, LaneBlock block, out EchoPath path)
    {
        var view = new EchoView(sensor, partOffset, block);
        return Pressure(view, part, out path).Power;
    }

    private static double Level(SensorAtPose sensor, TargetPart part, Vector512<double> power, LaneBlock block)
    {
        double mean = Vector512.Sum(power * block.PowerWeights);
        double level = sensor.Transducer.SourceLevelDecibels + sensor.Prepared.Spectrum.BuildUpDecibels
            + (10 * Math.Log10(mean)) - part.ReflectionLossDecibels;
        return level > PartEcho.SilentDecibels ? level : PartEcho.SilentDecibels;
    }
}
