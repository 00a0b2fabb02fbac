using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Walks;

/// <summary>Legs that swing under a pelvis: the foot rests on the ground while its leg stands and clears it while the leg swings,
/// and the knee gives way as needed. No foot point goes below the ground.</summary>
internal sealed class SwingingLegs
{
    // Pitch of the shoe, toe down positive, drawn after published foot angles: toe up at heel strike, flat, heel up, at toe-off most. [deg]
    private const double StrikeDegrees = -18;
    private const double PushDegrees = 52;
    private const double FlatFrom = 0.12;
    private const double HeelOffAt = 0.60;

    // Toe clearance in mid-swing, 11 to 20 mm in published studies.
    private const double ClearanceMetres = 0.018;

    private readonly Skeleton _skeleton;
    private readonly double _stance;
    private readonly double _stridesMetres;
    private readonly Vec3[] _sole;

    internal SwingingLegs(Body body, double stanceShare, double strideMetres)
    {
        _skeleton = body.Skeleton;
        _stance = stanceShare;
        _stridesMetres = strideMetres;
        _sole = [.. body.Segment(SegmentId.FootLeft).Surface.Vertices];
    }

    /// <summary>Sets the rotations of both legs at a stride phase.</summary>
    /// <param name="r">World-from-segment rotations; that of the pelvis is set.</param>
    /// <param name="pelvis">Position of the middle of the pelvis. [m]</param>
    /// <param name="phase">Stride phase, 0 at the left heel strike.</param>
    internal void Swing(Rotation[] r, Vec3 pelvis, double phase)
    {
        for (int side = 0; side < 2; side++)
        {
            double own = phase + (0.5 * side);
            SwingOne(r, pelvis, own - Math.Floor(own), side == 0 ? BodySide.Left : BodySide.Right);
        }
    }

    private void SwingOne(Rotation[] r, Vec3 pelvis, double phase, BodySide side)
    {
        SegmentId thigh = Segments.OnSide(SegmentId.ThighLeft, side);
        SegmentId shank = thigh + 2;
        SegmentId foot = thigh + 4;
        double pitch = Pitch(phase) * Math.PI / 180;
        var footTurn = Rotation.AboutY(Angle.FromRadians(pitch));
        double lift = phase < _stance ? 0 : ClearanceMetres * Square(Math.Sin(Math.PI * (phase - _stance) / (1 - _stance)));
        double ankleHeight = lift - Lowest(footTurn);

        Vec3 hip = pelvis + r[(int)SegmentId.Pelvis].Apply(_skeleton[thigh] - _skeleton[SegmentId.Pelvis]);
        Vec3 designThigh = _skeleton[shank] - _skeleton[thigh];
        Vec3 designShank = _skeleton[foot] - _skeleton[shank];
        double reach = 0.999 * (designThigh.Length + designShank.Length);
        Vec3 still = _skeleton[foot];
        double down = hip.Z - ankleHeight;
        double across = still.Y - hip.Y;
        double farthest = Math.Sqrt(Math.Max(0, (reach * reach) - (down * down) - (across * across)));

        // Under the ankle of a standing wearer, half a stance behind to half a stance ahead, as far as the leg reaches.
        double ahead = still.X + Math.Clamp(0.5 * _stance * _stridesMetres * Travel(phase), -farthest, farthest);
        Vec3 ankle = new(Math.Clamp(ahead, hip.X - farthest, hip.X + farthest), still.Y, ankleHeight);
        Vec3 knee = Limb.Middle(hip, ankle, designThigh.Length, designShank.Length, Vec3.UnitX);
        r[(int)thigh] = Limb.Between(designThigh, knee - hip);
        r[(int)shank] = Limb.Between(designShank, ankle - knee);
        r[(int)foot] = footTurn;
    }

    // From 1 (farthest ahead) at heel strike to -1 at toe-off and smoothly back.
    private double Travel(double phase) => phase < _stance
        ? 1 - (2 * phase / _stance)
        : -Math.Cos(Math.PI * (phase - _stance) / (1 - _stance));

    private double Pitch(double phase)
    {
        double flat = FlatFrom * _stance;
        double heelOff = HeelOffAt * _stance;
        double swing = (phase - _stance) / (1 - _stance);
        return phase < flat ? StrikeDegrees * Ease(1 - (phase / flat))
            : phase < heelOff ? 0
            : phase < _stance ? PushDegrees * Ease((phase - heelOff) / (_stance - heelOff))
            : PushDegrees + ((StrikeDegrees - PushDegrees) * Ease(swing));
    }

    private double Lowest(Rotation footTurn)
    {
        double lowest = double.PositiveInfinity;
        foreach (Vec3 p in _sole)
        {
            lowest = Math.Min(lowest, footTurn.Apply(p).Z);
        }

        return lowest;
    }

    private static double Ease(double t) => t * t * (3 - (2 * t));

    private static double Square(double x) => x * x;
}
