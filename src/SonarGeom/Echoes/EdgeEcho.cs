using System.Runtime.Intrinsics;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Echoes;

/// <summary>Sharp edges and rims by the uniform theory of diffraction.</summary>
/// <remarks>
/// <c>D = −e^{iπ/4}/(2n√(2πk)) Σ_{β = 0, 2φ} Σ_± cot((π ± β)/2n)·G(k L a±(β))</c>, rigid faces, nπ the angle of open air,
/// <c>G(x) = −2i√x e^{−ix} ∫_{√x}^∞ e^{iu²} du</c>, <c>a± = 2 cos²((2nπN± − β)/2)</c>, L = R/2 for an echo; Kouyoumjian and Pathak,
/// Proc. IEEE 62, 1448 (1974), in the time factor exp(−iωt) (from memory, checked against the exact series of the wedge).
/// A long straight edge gives <c>|p| = |D|/(R√(2R))</c>; pieces follow the line integral of e^{2ikr}/r².
/// </remarks>
internal static class EdgeEcho
{
    /// <summary>Angles this near to a shadow or mirror boundary are moved off it, where cot·G is ∞·0. [rad]</summary>
    private const double Nudge = 1e-6;

    internal static LaneComplex Edge(in EchoView view, EdgePart part, out EchoPath path)
    {
        Vec3 along = part.End2Metres - part.End1Metres;
        double length = along.Length;
        along /= length;
        LaneBlock block = view.Block;
        var line = new LineIntegral(view, part.End1Metres, along, 0, length);
        Vec3 towards = view.Midpoint - part.End1Metres;
        double angle = OpenAngle(towards.Dot(part.FaceDirection), towards.Dot(part.FaceNormal));
        if (!(angle < part.ExteriorAngle.Radians))
        {
            path = EchoPath.Silent(part.Middle);
            return default;
        }

        double range = 0.5 * line.LeastPath;
        LaneComplex integral = line.Evaluate(view, default(SpreadingWeight));
        path = new EchoPath(
            part.End1Metres + (line.Nearest * along), 0.5 * line.NearestPath, line.IsStationaryInside);

        // 1/√λ = √(k/2π).
        return integral * Diffraction(block, part.ExteriorAngle.Radians / Math.PI, angle, 0.5 * range)
            * (block.RootWavenumbers * Math.Sqrt(0.5 / Math.PI));
    }

    /// <summary>The nearest point of a round rim: <c>|p| = |D|/R·√(a/(2R(a + R cos ψ)))</c>, ψ between the ray and the plane of the rim.</summary>
    internal static LaneComplex Rim(in EchoView view, RimPart part, out EchoPath path)
    {
        Vec3 towards = view.Midpoint - part.CentreMetres;
        double up = towards.Dot(part.Axis);
        Vec3 level = towards - (up * part.Axis);
        double distance = level.Length;
        path = EchoPath.Silent(part.CentreMetres);

        // Over the flat end itself the disc answers, and the nearest point of the rim means nothing.
        if (!(distance > part.RadiusMetres))
        {
            return default;
        }

        Vec3 outward = level / distance;
        Vec3 point = part.CentreMetres + (part.RadiusMetres * outward);
        double ahead = distance - part.RadiusMetres;
        double angle = OpenAngle(-ahead, up);
        const double Exterior = 1.5;
        if (!(angle < Exterior * Math.PI))
        {
            return default;
        }

        double range = Math.Sqrt((ahead * ahead) + (up * up));
        double spread = Math.Sqrt(part.RadiusMetres / (2 * range * (part.RadiusMetres + ahead))) / range;
        LaneComplex ray = view.Ray(point, Vector512.Create(spread), out double length);
        path = new EchoPath(point, 0.5 * length, true);
        return ray * Diffraction(view.Block, Exterior, angle, 0.5 * range);
    }

    /// <summary>The diffraction coefficient for source and receiver at one angle.</summary>
    internal static LaneComplex Diffraction(LaneBlock block, double n, double angle, double distanceParameter)
    {
        LaneComplex sum = default;
        for (int term = 0; term < 2; term++)
        {
            double beta = term == 0 ? 0 : 2 * angle;
            for (int sign = -1; sign <= 1; sign += 2)
            {
                double argument = (Math.PI + (sign * beta)) / (2 * n);
                double off = argument - (Math.PI * Math.Round(argument / Math.PI));
                double shifted = beta;
                if (Math.Abs(off) < Nudge)
                {
                    shifted += 2 * n * Nudge * (off < 0 ? -sign : sign);
                    argument = (Math.PI + (sign * shifted)) / (2 * n);
                }

                double turns = Math.Round((shifted + (sign * Math.PI)) / (2 * n * Math.PI));
                double cosine = Math.Cos(((2 * n * Math.PI * turns) - shifted) / 2);
                Vector512<double> root = block.RootWavenumbers * Math.Sqrt(2 * cosine * cosine * distanceParameter);

                // G = −2i√x·W(√x).
                LaneComplex g = LaneMath.FresnelTail(root) * (2 * root);
                sum += new LaneComplex(g.Imaginary, -g.Real) * (1 / Math.Tan(argument));
            }
        }

        // −e^{iπ/4}/(2n√(2πk)).
        double scale = -Math.Sqrt(0.5) / (2 * n * Math.Sqrt(2 * Math.PI));
        Vector512<double> factor = block.InverseRootWavenumbers * scale;
        return sum * new LaneComplex(factor, factor);
    }

    /// <summary>The angle from the face through the open air, 0 to 2π.</summary>
    private static double OpenAngle(double alongFace, double outOfFace)
    {
        double angle = Math.Atan2(outOfFace, alongFace);
        return angle < 0 ? angle + (2 * Math.PI) : angle;
    }
}
