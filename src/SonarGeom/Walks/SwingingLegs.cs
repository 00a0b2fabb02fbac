using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Walks;

/// <summary>Legs that swing under a pelvis: the foot rests on the ground while its leg stands and clears it while the leg swings,
/// and the knee gives way as needed. A leg too short for
/// the height of its hip raises the heel. No point of a shoe goes below the ground.</summary>
internal sealed class SwingingLegs
{
    // Pitch of the shoe, toe down positive, drawn after published foot angles: toe up at heel strike, flat, heel up, at toe-off most. [deg]
    private const double StrikeDegrees = -18;
    private const double PushDegrees = 52;
    private const double FlatFrom = 0.12;
    private const double HeelOffAt = 0.60;

    // Toe clearance in mid-swing, 11 to 20 mm in published studies.
    private const double ClearanceMetres = 0.018;

    // How much further a heel may rise so that a leg reaches the ground. [deg]
    private const double MostRaisedDegrees = 40;
    private const int HeelSteps = 40;

    private readonly Skeleton _skeleton;
    private readonly double _stance;
    private readonly double _ahead;
    private readonly double _behind;
    private readonly Vec3[] _sole;

    /// <summary>Fits the step to what the legs reach.</summary>
    /// <param name="body">The body.</param>
    /// <param name="stanceShare">Share of the stride during which a foot is on the ground.</param>
    /// <param name="strideMetres">Length of a stride. [m]</param>
    /// <param name="worldFromPelvis">The pelvis at a stride phase.</param>
    internal SwingingLegs(Body body, double stanceShare, double strideMetres, Func<double, RigidTransform> worldFromPelvis)
    {
        _skeleton = body.Skeleton;
        _stance = stanceShare;
        _sole = [.. body.Segment(SegmentId.FootLeft).Surface.Vertices];
        _behind = 0.5 * stanceShare * strideMetres;
        _ahead = _behind;

        // The leading leg is straight while its foot comes down; how far ahead that can be decides the step.
        const int Samples = 9;
        for (int i = 0; i < Samples; i++)
        {
            double phase = FlatFrom * stanceShare * i / (Samples - 1);
            double ankleHeight = AnkleHeight(Pitch(phase), 0);
            Vec3 hip = worldFromPelvis(phase).ApplyToPoint(_skeleton[SegmentId.ThighLeft] - _skeleton[SegmentId.Pelvis]);
            double farthest = Farthest(hip, ankleHeight, BodySide.Left) + hip.X - _skeleton[SegmentId.FootLeft].X;

            // Where the foot is then, told from ahead to behind: a - (a + b) phase / stance = farthest.
            double share = phase / stanceShare;
            _ahead = Math.Min(_ahead, (farthest + (_behind * share)) / (1 - share));
        }

        _ahead = Math.Max(0, _ahead);
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
        double lift = phase < _stance ? 0 : ClearanceMetres * Square(Math.Sin(Math.PI * (phase - _stance) / (1 - _stance)));
        Vec3 hip = pelvis + r[(int)SegmentId.Pelvis].Apply(_skeleton[thigh] - _skeleton[SegmentId.Pelvis]);
        Vec3 designThigh = _skeleton[shank] - _skeleton[thigh];
        Vec3 designShank = _skeleton[foot] - _skeleton[shank];
        Vec3 still = _skeleton[foot];
        double x = still.X + Travel(phase);
        double pitch = Pitch(phase);
        if (Short(pitch))
        {
            // Raise the heel just so far that the leg reaches.
            double low = Math.Max(0, pitch);
            double high = low + MostRaisedDegrees;
            for (int i = 0; i < HeelSteps; i++)
            {
                double middle = 0.5 * (low + high);
                (low, high) = Short(middle) ? (middle, high) : (low, middle);
            }

            pitch = high;
        }

        double ankleHeight = AnkleHeight(pitch, lift);
        double farthest = Farthest(hip, ankleHeight, side);
        Vec3 ankle = new(Math.Clamp(x, hip.X - farthest, hip.X + farthest), still.Y, ankleHeight);
        Vec3 knee = Limb.Middle(hip, ankle, designThigh.Length, designShank.Length, Vec3.UnitX);
        r[(int)thigh] = Limb.Between(designThigh, knee - hip);
        r[(int)shank] = Limb.Between(designShank, ankle - knee);
        r[(int)foot] = Turn(pitch);

        bool Short(double at) => Math.Abs(x - hip.X) > Farthest(hip, AnkleHeight(at, lift), side);
    }

    // How far ahead of the hip or behind it a straight leg reaches an ankle at a height.
    private double Farthest(Vec3 hip, double ankleHeight, BodySide side)
    {
        SegmentId thigh = Segments.OnSide(SegmentId.ThighLeft, side);
        double reach = 0.9995 * ((_skeleton[thigh + 2] - _skeleton[thigh]).Length + (_skeleton[thigh + 4] - _skeleton[thigh + 2]).Length);
        double down = hip.Z - ankleHeight;
        double across = _skeleton[thigh + 4].Y - hip.Y;
        return Math.Sqrt(Math.Max(0, (reach * reach) - (down * down) - (across * across)));
    }

    // Where the foot is, against standing: from ahead at heel strike evenly to behind at toe-off, and smoothly back.
    private double Travel(double phase) => phase < _stance
        ? _ahead - ((_ahead + _behind) * phase / _stance)
        : -_behind + ((_ahead + _behind) * Ease((phase - _stance) / (1 - _stance)));

    // The height of the ankle at which the lowest point of the shoe is a lift above the ground.
    private double AnkleHeight(double pitchDegrees, double lift)
    {
        Rotation turn = Turn(pitchDegrees);
        double lowest = double.PositiveInfinity;
        foreach (Vec3 p in _sole)
        {
            lowest = Math.Min(lowest, turn.Apply(p).Z);
        }

        return lift - lowest;
    }

    private static Rotation Turn(double pitchDegrees) => Rotation.AboutY(Angle.FromDegrees(pitchDegrees));

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

    private static double Ease(double t) => t * t * (3 - (2 * t));

    private static double Square(double x) => x * x;
}
