using System.Runtime.Intrinsics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>The double bounce between an upright face, or a round upright, and smooth ground.</summary>
/// <remarks>
/// <para>
/// A square corner acts as a flat strip on the corner line that faces the sensor, of height <c>2h cos ψ</c> (ψ the depression of the
/// corner), because each ray comes back shifted through the corner: <c>p = (1/λ)·F(±h cos ψ)·∫ D_T D_R e^{2ikr}/r² dx</c> along the
/// line, <c>F(±w) = ∫ e^{ikz²/R} dz</c>. Checked against bistatic Kirchhoff quadrature with the image of the road. The single and the
/// triple bounce change the total by up to 0.25 dB; they are left out.
/// </para>
/// <para>
/// A round upright and its image make one endless rod for this path: <c>p = (1/2R)√(a/(a + R cos ψ))·F(±h cos ψ)/F(∞)</c>
/// (geometrical acoustics of a cylinder struck at the angle ψ).
/// </para>
/// <para>
/// Each bounce costs <c>exp(−Γ²/2)</c> with Γ = 2kσ sin(grazing angle): ψ for the floor, 90° − ψ for the face.
/// </para>
/// </remarks>
internal static class CornerEcho
{
    internal static LaneComplex Corner(in EchoView view, CornerPart part, out EchoPath path)
    {
        Vec3 along = part.End2Metres - part.End1Metres;
        double length = along.Length;
        along /= length;
        path = EchoPath.Silent(part.Middle);
        if (!IsInFront(view.Transmitter - part.End1Metres, part) || !IsInFront(view.Receiver - part.End1Metres, part))
        {
            return default;
        }

        LaneBlock block = view.Block;
        var line = new LineIntegral(view, part.End1Metres, along, 0, length);
        Vec3 towards = view.Midpoint - (part.End1Metres + (line.Nearest * along));
        double range = 0.5 * line.LeastPath;
        double up = towards.Dot(part.FloorNormal);
        double ahead = towards.Dot(part.FaceNormal);
        double across = Math.Sqrt((up * up) + (ahead * ahead));
        double sine = up / across;
        double cosine = ahead / across;
        double halfStrip = Math.Min(part.FaceHeightMetres * cosine, part.FloorDepthMetres * sine);

        // Each bounce mirrors one component of the wave vector: grazing angles from the components along the normals.
        double total = towards.Length;
        double floor = part.FloorRoughnessRmsMetres * up / total;
        double face = part.RoughnessRmsMetres * ahead / total;
        Vector512<double> k = block.Wavenumbers;
        Vector512<double> rough = Vector512.Exp(k * k * (-2 * ((floor * floor) + (face * face))));
        LaneComplex integral = line.Evaluate(view, default(SpreadingWeight));
        path = new EchoPath(
            part.End1Metres + (line.Nearest * along), 0.5 * line.NearestPath, line.IsStationaryInside);

        // 1/λ = k/2π; F(±w) = √(R/k) ∫ e^{iu²} du over ±w√(k/R).
        LaneComplex strip = FresnelStrip(block, halfStrip / Math.Sqrt(range)) * (block.InverseRootWavenumbers * Math.Sqrt(range));
        return integral * strip * (k * rough * (0.5 / Math.PI));
    }

    internal static LaneComplex PoleFoot(in EchoView view, PoleFootPart part, out EchoPath path)
    {
        Vec3 towards = view.Midpoint - part.FootMetres;
        double up = towards.Dot(part.Axis);
        Vec3 level = towards - (up * part.Axis);
        double distance = level.Length;
        path = EchoPath.Silent(part.FootMetres);
        double ahead = distance - part.RadiusMetres;
        if (!(up > 1e-3 && ahead > 1e-3))
        {
            return default;
        }

        LaneBlock block = view.Block;
        Vec3 point = part.FootMetres + (part.RadiusMetres / distance * level);
        double range = Math.Sqrt((up * up) + (ahead * ahead));
        double sine = up / range;
        double cosine = ahead / range;
        double amplitude = 0.5 / range * Math.Sqrt(part.RadiusMetres / (part.RadiusMetres + ahead));
        Vector512<double> k = block.Wavenumbers;
        double floor = part.FloorRoughnessRmsMetres * sine;
        double face = part.RoughnessRmsMetres * cosine;
        Vector512<double> rough = Vector512.Exp(k * k * (-2 * ((floor * floor) + (face * face))));
        Vector512<double> exact = ResonanceTable.Cylinder.At(k, cosine * part.RadiusMetres);
        LaneComplex ray = view.Ray(point, exact * rough * amplitude, out double length);
        path = new EchoPath(point, 0.5 * length, true);

        // Share of the endless Fresnel integral, √π e^{iπ/4}.
        double scale = 0.5 / LaneMath.FullFresnelPart;
        return ray * FresnelStrip(block, part.HeightMetres * cosine / Math.Sqrt(range))
            * new LaneComplex(Vector512.Create(scale), Vector512.Create(-scale));
    }

    /// <summary>∫ e^{iu²} du over ±x√k.</summary>
    private static LaneComplex FresnelStrip(LaneBlock block, double x)
    {
        Vector512<double> u = block.RootWavenumbers * x;
        LaneComplex tail = LaneMath.PhaseOnce(u * u) * LaneMath.FresnelTail(u);
        Vector512<double> full = Vector512.Create(LaneMath.FullFresnelPart);
        return new LaneComplex(full, full) - (tail * 2);
    }

    private static bool IsInFront(Vec3 towards, CornerPart part) =>
        towards.Dot(part.FaceNormal) > 1e-3 && towards.Dot(part.FloorNormal) > 1e-3;
}
