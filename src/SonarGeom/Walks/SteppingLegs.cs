using SonarGeom.Bodies;
using SonarGeom.Geometry;
using SonarGeom.Quantities;

namespace SonarGeom.Walks;

/// <summary>Legs that walk as the tabled joint angles have it, as nearly as the ground allows: a standing foot rolls without slipping
/// under a body that goes ahead evenly, and a swinging foot takes the tabled way, bent so that it leaves and meets the ground smoothly.</summary>
/// <remarks>
/// <para>The pitch of the shoe is hip − knee + ankle, less what it is on average while the foot is flat: the tabled hip angle is against
/// a pelvis that leans. Knee and thigh then follow from where hip and ankle are.</para>
/// <para>Where the foot is put down, how high the hips are over the stride, and how far a stiff shoe lifts its heel, is chosen for the
/// least square deviation of thigh, knee and ankle from the tables. The hips stay within what the source of the tabled rise states as its
/// spread. The knee counts least: near straight, 10 mm of height are 15° of it.</para>
/// </remarks>
internal sealed class SteppingLegs
{
    // The foot counts as flat here, and pitches of few degrees are taken as flat. [stride phase, °]
    private const double FlatFrom = 0.15;
    private const double FlatTo = 0.35;
    private const double FlatDegrees = 2.5;

    // Toe clearance in mid-swing, 11 to 20 mm in published studies.
    private const double ClearanceMetres = 0.015;

    // Beyond here a shoe of one piece rolls over its toe while a foot rolls over its ball: there the tables cannot be met and count less.
    private const double RolledFrom = 0.45;
    private const double RolledWeight = 0.35;
    private const double KneeWeight = 0.5;
    private const double AnkleWeight = 2;

    // The share of its heel's lift that a stiff shoe may leave out at the end of stance, made good over this much of the stride.
    private const double MostHeld = 0.4;
    private const double HeldSwing = 0.12;

    // The spread among walkers of the rise of the centre of mass: 0.5 cm of 2.7 and 0.9 cm of 4.8 (Orendurff et al. 2004).
    private const double MostRiseChange = 0.18;
    private const double MostQuarterMetres = 0.006;

    // How much further a heel may rise so that a leg reaches the ground, and what a leg too short at the strike costs. [°, m]
    private const double MostRaisedDegrees = 40;
    private const double ShortMetres = 0.005;
    // A knee that is bent by less than 5° would snap straight within a moment.
    private const double ReachShare = 0.9992;
    private const int HeelSteps = 24;
    private const int FitPhases = 48;
    private const int FitRounds = 32;

    private readonly JointAngles _angles;
    private readonly RollingSole _sole;
    private readonly Func<double, RigidTransform> _worldFromPelvis;
    private readonly double _stance;
    private readonly double _stride;
    private readonly double _side;
    private readonly Vec3 _hipInPelvis;
    private readonly Vec3 _thigh;
    private readonly Vec3 _shank;
    private readonly double _stillHeight;
    private double _putDown;
    private double _riseChange;
    private double _quarterCosine;
    private double _quarterSine;
    private double _held;
    private (double X, double Z) _atLift;
    private (double X, double Z) _atStrike;

    /// <summary>Fits the step to the body.</summary>
    /// <param name="body">The body.</param>
    /// <param name="angles">The tabled angles.</param>
    /// <param name="times">The stride.</param>
    /// <param name="strideMetres">Length of a stride. [m]</param>
    /// <param name="worldFromPelvis">The pelvis at a stride phase, at the mean height of standing.</param>
    internal SteppingLegs(
        Body body, JointAngles angles, StrideTimes times, double strideMetres, Func<double, RigidTransform> worldFromPelvis)
    {
        Skeleton skeleton = body.Skeleton;
        _angles = angles;
        _sole = new RollingSole(body.Segment(SegmentId.FootLeft).Surface.Vertices);
        _worldFromPelvis = worldFromPelvis;
        _stance = times.StanceShare;
        _stride = strideMetres;
        _side = 0.5 * times.StepWidthMetres;
        _stillHeight = body.Poses.StillPelvis.Z;
        _hipInPelvis = skeleton[SegmentId.ThighLeft] - skeleton[SegmentId.Pelvis];
        _thigh = skeleton[SegmentId.ShankLeft] - skeleton[SegmentId.ThighLeft];
        _shank = skeleton[SegmentId.FootLeft] - skeleton[SegmentId.ShankLeft];
        const int Samples = 20;
        double sum = 0;
        for (int i = 0; i < Samples; i++)
        {
            (double hip, double knee, double ankle) = angles.At(FlatFrom + ((FlatTo - FlatFrom) * (i + 0.5) / Samples));
            sum += hip - knee + ankle;
        }

        PelvisLeanDegrees = sum / Samples;
        Fit();
    }

    /// <summary>Gets how far the pelvis of the walkers of the tables leans forward of the design attitude. [°]</summary>
    internal double PelvisLeanDegrees { get; }

    /// <summary>Gets how much lower than standing the hips are on average. [m]</summary>
    internal double LoweredMetres { get; private set; }

    /// <summary>Returns how much higher than tabled the pelvis is at a stride phase. [m]</summary>
    internal double PelvisRaisedMetres(double phase)
    {
        (double sine, double cosine) = Math.SinCos(8 * Math.PI * phase);
        double tabled = _worldFromPelvis(phase).Translation.Z - _stillHeight;
        return (_riseChange * tabled) + (_quarterCosine * cosine) + (_quarterSine * sine) - LoweredMetres;
    }

    /// <summary>Sets the rotations of both legs at a stride phase.</summary>
    /// <param name="r">World-from-segment rotations; that of the pelvis is set.</param>
    /// <param name="pelvis">Position of the middle of the pelvis. [m]</param>
    /// <param name="phase">Stride phase, 0 at the left heel strike.</param>
    internal void Step(Rotation[] r, Vec3 pelvis, double phase)
    {
        for (int side = 0; side < 2; side++)
        {
            double mirror = side == 0 ? 1 : -1;
            double own = phase + (0.5 * side);
            own -= Math.Floor(own);
            Vec3 hip = pelvis + r[(int)SegmentId.Pelvis].Apply(OnSide(_hipInPelvis, mirror));
            (Vec3 ankle, double toeDown) = Foot(own, hip, mirror);
            Vec3 thigh = OnSide(_thigh, mirror);
            Vec3 shank = OnSide(_shank, mirror);
            Vec3 knee = Limb.Middle(hip, ankle, thigh.Length, shank.Length, Vec3.UnitX);
            r[(int)SegmentId.ThighLeft + side] = Limb.Between(thigh, knee - hip);
            r[(int)SegmentId.ShankLeft + side] = Limb.Between(shank, ankle - knee);
            r[(int)SegmentId.FootLeft + side] = Rotation.AboutY(Angle.FromRadians(toeDown));
        }
    }

    private static Vec3 OnSide(Vec3 left, double mirror) => new(left.X, mirror * left.Y, left.Z);

    // Where the ankle is and how the shoe is pitched.
    private (Vec3 Ankle, double ToeDownRadians) Foot(double phase, Vec3 hip, double mirror)
    {
        double toeDown = ToeDown(phase);
        double y = mirror * _side;
        if (phase >= _stance)
        {
            return (Swinging(phase, hip, y, toeDown), toeDown);
        }

        (double x, double z) = Standing(phase, toeDown);
        if (phase > FlatFrom && Short(x, z))
        {
            // Raise the heel just so far that the leg reaches; the toe stays where it is.
            double low = Math.Max(0, toeDown);
            double high = low + (MostRaisedDegrees * Math.PI / 180);
            for (int i = 0; i < HeelSteps; i++)
            {
                double middle = 0.5 * (low + high);
                (x, z) = Standing(phase, middle);
                (low, high) = Short(x, z) ? (middle, high) : (low, middle);
            }

            toeDown = high;
            (x, z) = Standing(phase, toeDown);
        }

        return (Reached(new Vec3(x, y, z), hip), toeDown);

        bool Short(double atX, double atZ) => new Vec3(atX, y, atZ).DistanceTo(hip) > Reach;
    }

    private double Reach => ReachShare * (_thigh.Length + _shank.Length);

    private Vec3 Reached(Vec3 ankle, Vec3 hip)
    {
        double across = ankle.Y - hip.Y;
        double down = ankle.Z - hip.Z;
        double farthest = Math.Sqrt(Math.Max(0, (Reach * Reach) - (across * across) - (down * down)));
        return ankle with { X = Math.Clamp(ankle.X, hip.X - farthest, hip.X + farthest) };
    }

    private (double X, double Z) Standing(double phase, double toeDown)
    {
        (double ahead, double height) = _sole.Ankle(toeDown);
        return (_putDown + ahead - (_stride * phase), height);
    }

    private Vec3 Swinging(double phase, Vec3 hip, double y, double toeDown)
    {
        double s = (phase - _stance) / (1 - _stance);
        (double x, double z) = Tabled(phase);
        double share = Ease(s);
        x += hip.X + ((1 - share) * _atLift.X) + (share * _atStrike.X);
        z += hip.Z + ((1 - share) * _atLift.Z) + (share * _atStrike.Z);
        double sine = Math.Sin(Math.PI * s);
        double least = _sole.Ankle(toeDown).HeightMetres + (ClearanceMetres * sine * sine);
        return Reached(new Vec3(x, y, Math.Max(z, least)), hip);
    }

    // The ankle against the hip as the tables have it.
    private (double X, double Z) Tabled(double phase)
    {
        (double hip, double knee, _) = _angles.At(phase);
        Vec3 ankle = Rotation.AboutY(Angle.FromDegrees(PelvisLeanDegrees - hip)).Apply(_thigh)
            + Rotation.AboutY(Angle.FromDegrees(PelvisLeanDegrees - hip + knee)).Apply(_shank);
        return (ankle.X, ankle.Z);
    }

    private double ToeDown(double phase)
    {
        (double hip, double knee, double ankle) = _angles.At(phase);
        double degrees = PelvisLeanDegrees - (hip - knee + ankle);
        double flattened = degrees * degrees * degrees / ((degrees * degrees) + (FlatDegrees * FlatDegrees));
        return flattened * (1 - (_held * HeldShare(phase))) * Math.PI / 180;
    }

    // A shoe of one piece rolls over its toe, a foot over its ball: it lifts its heel less until it leaves the ground.
    private double HeldShare(double phase)
    {
        double rise = Math.Clamp((phase - FlatTo) / (_stance - FlatTo), 0, 1);
        double fall = Math.Clamp((phase - _stance) / HeldSwing, 0, 1);
        return phase <= _stance ? Ease(rise) : Ease(1 - fall);
    }

    private static double Ease(double t) => t * t * (3 - (2 * t));

    private Vec3 RaisedHip(double phase) => _worldFromPelvis(phase).ApplyToPoint(_hipInPelvis) + (PelvisRaisedMetres(phase) * Vec3.UnitZ);

    // How far the way of a standing foot is from the tabled one.
    private (double X, double Z) Deviation(double phase)
    {
        (double x, double z) = Standing(phase, ToeDown(phase));
        (double tabledX, double tabledZ) = Tabled(phase);
        Vec3 hip = RaisedHip(phase);
        return (x - tabledX - hip.X, z - tabledZ - hip.Z);
    }

    private void Join()
    {
        _atLift = Deviation(_stance);
        _atStrike = Deviation(0);
    }

    // Square deviation of thigh and knee from the tables over the stride. [rad²]
    private double Cost(double[] step)
    {
        _putDown = step[0];
        LoweredMetres = step[1];
        _held = Math.Clamp(step[5], 0, MostHeld);
        _riseChange = Math.Clamp(step[2], -MostRiseChange, MostRiseChange);
        _quarterCosine = Math.Clamp(step[3], -MostQuarterMetres, MostQuarterMetres);
        _quarterSine = Math.Clamp(step[4], -MostQuarterMetres, MostQuarterMetres);
        Join();
        double sum = 0;
        (double strikeX, double strikeZ) = Standing(0, ToeDown(0));
        double far = new Vec3(strikeX, _side, strikeZ).DistanceTo(RaisedHip(0)) - Reach;
        sum += far > 0 ? Math.Pow(far / ShortMetres, 2) : 0;
        for (int i = 0; i < FitPhases; i++)
        {
            double phase = (i + 0.5) / FitPhases;
            double weight = phase < RolledFrom ? 1 : RolledWeight;
            Vec3 hip = RaisedHip(phase);
            (Vec3 foot, double toeDown) = Foot(phase, hip, 1);
            (double thigh, double knee) = Bent(hip, foot);
            (double tabledHip, double tabledKnee, double tabledAnkle) = _angles.At(phase);
            double thighOff = thigh - ((tabledHip - PelvisLeanDegrees) * Math.PI / 180);
            double kneeOff = knee - (tabledKnee * Math.PI / 180);
            double ankleOff = knee - thigh - toeDown - (tabledAnkle * Math.PI / 180);
            sum += weight * ((thighOff * thighOff) + (KneeWeight * kneeOff * kneeOff) + (AnkleWeight * ankleOff * ankleOff));
        }

        return sum;
    }

    // Thigh forward and knee bent, against the design attitude. [rad]
    private (double Thigh, double Knee) Bent(Vec3 hip, Vec3 ankle)
    {
        Vec3 knee = Limb.Middle(hip, ankle, _thigh.Length, _shank.Length, Vec3.UnitX);
        double thigh = Forward(knee - hip) - Forward(_thigh);
        return (thigh, thigh - (Forward(ankle - knee) - Forward(_shank)));

        static double Forward(Vec3 v) => Math.Atan2(v.X, -v.Z);
    }

    private void Fit()
    {
        double[] best = [0.5 * _stance * _stride, 0.02, 0, 0, 0, 0.1];
        double[] steps = [0.04, 0.02, 0.1, 0.004, 0.004, 0.1];
        double least = Cost(best);
        for (int round = 0; round < FitRounds; round++)
        {
            bool better = false;
            for (int move = 0; move < 2 * best.Length; move++)
            {
                double[] tried = [.. best];
                tried[move / 2] += (move % 2 == 0 ? 1 : -1) * steps[move / 2];
                double cost = Cost(tried);
                if (cost < least)
                {
                    (least, best, better) = (cost, tried, true);
                }
            }

            if (!better)
            {
                steps = [.. steps.Select(s => 0.5 * s)];
            }
        }

        Cost(best);
    }
}
