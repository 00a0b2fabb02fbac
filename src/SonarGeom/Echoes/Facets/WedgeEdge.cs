using SonarGeom.Geometry;

namespace SonarGeom.Echoes.Facets;

/// <summary>A straight edge of a rigid solid or thin sheet, with the two ways to write the wave that it sends out.</summary>
/// <remarks>
/// Exact: the line integral of Biot, Tolstoy and Medwin for a rigid wedge; Svensson, Fred and Vanderkooy, JASA 106, 2331 (1999)
/// (from memory; the tests compare it with the eigenfunction series). Kirchhoff: what the surface integral over a face leaves at this
/// edge, by the transformation of Maggi and Rubinowicz with the image of the source in the face (Born and Wolf, Principles of Optics,
/// §8.9; from memory; the tests compare it with the surface integral).
/// </remarks>
internal readonly struct WedgeEdge
{
    /// <summary>Directions this near to a mirror boundary are moved off it, where both integrands are singular and cancel. [rad]</summary>
    private const double Nudge = 1e-7;

    private readonly Vec3 _along;
    private readonly Vec3 _leftNormal;
    private readonly Vec3 _leftTangent;
    private readonly Vec3 _rightNormal;
    private readonly double _openAngle;

    /// <summary>Makes an edge from that of a mesh; a border of a sheet is an edge of no thickness.</summary>
    internal WedgeEdge(in MeshEdge edge)
    {
        Start = edge.StartMetres;
        End = edge.EndMetres;
        _along = (End - Start).Normalized();
        _leftNormal = edge.LeftNormal;
        _leftTangent = _leftNormal.Cross(_along);
        _rightNormal = edge.IsBorder ? -_leftNormal : edge.RightNormal;
        _openAngle = edge.IsBorder ? 2.0 * Math.PI : Math.PI + edge.TurnRadians;
    }

    internal Vec3 Start { get; }

    internal Vec3 End { get; }

    /// <summary>Gets the direction from the edge into the open, half way between its faces.</summary>
    internal Vec3 Outward => _openAngle >= (2.0 * Math.PI) - 1e-9 ? -_leftTangent : (_leftNormal + _rightNormal).Normalized();

    /// <summary>
    /// What the exact edge has beyond the edge of the surface integral, at a point of the edge, for each metre of it, without
    /// exp(ik(m + l)): 0 where either end does not see the edge.
    /// </summary>
    /// <param name="point">The point of the edge. [m]</param>
    /// <param name="source">One end of the path. [m]</param>
    /// <param name="receiver">The other end. [m]</param>
    internal double Excess(Vec3 point, Vec3 source, Vec3 receiver)
    {
        Vec3 toSource = source - point;
        Vec3 toReceiver = receiver - point;
        double m = toSource.Length;
        double l = toReceiver.Length;
        double angleSource = Angle(toSource);
        double angleReceiver = Angle(toReceiver);
        if (!(angleSource < _openAngle) || !(angleReceiver < _openAngle))
        {
            return 0.0;
        }

        double zSource = toSource.Dot(_along);
        double zReceiver = toReceiver.Dot(_along);
        double perpendicularSource = Math.Sqrt(Math.Max((m * m) - (zSource * zSource), 1e-18));
        double perpendicularReceiver = Math.Sqrt(Math.Max((l * l) - (zReceiver * zReceiver), 1e-18));

        // cosh η with both z taken from the point: (m l + z_S z_R)/(r_S r_R).
        double cosh = Math.Max(((m * l) + (zSource * zReceiver)) / (perpendicularSource * perpendicularReceiver), 1.0);
        double index = Math.PI / _openAngle;
        double exact = -index * Beta(index, angleSource, angleReceiver, cosh);
        double kirchhoff = 0.0;
        if (angleSource < Math.PI && angleReceiver < Math.PI)
        {
            kirchhoff += FaceEdge(toSource, toReceiver, _leftNormal, _along);
        }

        if (angleSource > _openAngle - Math.PI && angleReceiver > _openAngle - Math.PI)
        {
            kirchhoff += FaceEdge(toSource, toReceiver, _rightNormal, -_along);
        }

        return (exact + kirchhoff) / (4.0 * Math.PI * m * l);
    }

    /// <summary>
    /// The sum of four terms sin νφ/(cosh νη − cos νφ), φ = π ± θ_S ± θ_R, in the line integral of a rigid wedge, per −ν/4π.
    /// </summary>
    /// <param name="index">ν: π over the angle of the open air.</param>
    /// <param name="source">θ_S, angle of the source from a face. [rad]</param>
    /// <param name="receiver">θ_R, angle of the receiver from the same face. [rad]</param>
    /// <param name="cosh">cosh η.</param>
    internal static double Beta(double index, double source, double receiver, double cosh)
    {
        double eta = Math.Log(cosh + Math.Sqrt((cosh * cosh) - 1.0));
        double wide = Math.Cosh(index * eta);
        double half = Math.Sinh(0.5 * index * eta);

        // cosh νη − cos νφ = 2 sinh²(νη/2) + 2 sin²(νφ/2) keeps its digits where both are near 1.
        double Term(double phi)
        {
            double turned = index * phi;
            double off = turned - (2.0 * Math.PI * Math.Round(turned / (2.0 * Math.PI)));
            if (Math.Abs(off) < Nudge)
            {
                turned += off < 0 ? -Nudge : Nudge;
            }

            double sine = Math.Sin(0.5 * turned);
            double below = wide < 2.0 ? 2.0 * ((half * half) + (sine * sine)) : wide - Math.Cos(turned);
            return Math.Sin(turned) / below;
        }

        return Term(Math.PI + source + receiver) + Term(Math.PI + source - receiver)
            + Term(Math.PI - source + receiver) + Term(Math.PI - source - receiver);
    }

    /// <summary>
    /// (ρ̂ × ŝ)·e/(1 + ρ̂·ŝ), ρ from the image of the source in a face to the point, s from the receiver to it, e along the edge
    /// counter-clockwise round the face: times −exp(ik(m + l))/(4π m l) it is the edge of the surface integral over the face.
    /// </summary>
    private static double FaceEdge(Vec3 toSource, Vec3 toReceiver, Vec3 normal, Vec3 along)
    {
        Vec3 toImage = toSource - (2.0 * toSource.Dot(normal) * normal);
        Vec3 fromImage = -toImage.Normalized();
        Vec3 fromReceiver = -toReceiver.Normalized();
        Vec3 cross = fromImage.Cross(fromReceiver);

        // 1 + cos = |sum|²/2, which keeps its digits where the two are opposite.
        double below = 0.5 * (fromImage + fromReceiver).LengthSquared;
        return cross.Dot(along) / Math.Max(below, 1e-14);
    }

    /// <summary>The angle from the left face through the open air, 0 to 2π.</summary>
    private double Angle(Vec3 towards)
    {
        double angle = Math.Atan2(towards.Dot(_leftNormal), towards.Dot(_leftTangent));
        return angle < 0 ? angle + (2.0 * Math.PI) : angle;
    }
}
