using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Quantities;

namespace SonarGeom.Walks;

/// <summary>Walking by published curves: hip, knee and ankle over the stride, interpolated in speed; pelvis, trunk, head and arms by
/// sines of published size. Standing feet roll and do not slip, no shoe goes below the ground.</summary>
/// <remarks>
/// <para>The angles of the legs follow the curves as nearly as the ground allows. The middle of the head moves by exactly the tabled
/// amounts, the pelvis up and down by the tabled ones within their stated spread. It goes ahead evenly.</para>
/// <para>Children and adults of unusual leg length walk as the tabled adults of the same Froude number do.</para>
/// <para>A wearer in a wheelchair sits still.</para>
/// </remarks>
public sealed class Gait : IWalkingMotion
{
    private const double SlowestMetresPerSecond = 0.1;
    private const double FastestMetresPerSecond = 3;

    private readonly UpperBodySway _sway;
    private readonly SteppingLegs _legs;
    private readonly double _caneTipRise;

    private Gait(Body body, double speedMetresPerSecond, CaneTechnique caneTechnique)
    {
        Body = body;
        SpeedMetresPerSecond = speedMetresPerSecond;
        StrideTimes times = StrideTimes.Of(body, speedMetresPerSecond);
        StrideSeconds = times.StrideSeconds;
        StanceFraction = times.StanceShare;
        double adultSpeed = speedMetresPerSecond / Math.Sqrt(times.LegScale);
        var angles = new JointAngles(body.Tables.GaitCurves, adultSpeed);
        _legs = new SteppingLegs(
            body, angles, times, StrideMetres, new UpperBodySway(body, speedMetresPerSecond).WorldFromPelvis);
        _sway = new UpperBodySway(body, speedMetresPerSecond, _legs.LoweredMetres, _legs.PelvisRaisedMetres);
        _caneTipRise = caneTechnique == CaneTechnique.TwoPointTouch ? body.Tables.Assumed("cane_tip_rise") : 0;
        Notes = body.Poses.IsSeated
            ? ["The wearer sits still; the sway of pushing a wheelchair is not modelled."]
            :
            [
                "Legs by published curves of sighted adults of 18 to 29 on a treadmill, bent so that standing feet do not slip; ranges of motion within 5° of the curves, by which two published sets differ.",
                "Head and pelvis amounts from published peak values (B); trunk, arms and pelvis turns from example sets or children (C to D): low confidence.",
                .. CurveNotes(body, speedMetresPerSecond, adultSpeed),
                .. UpperBodySway.SpeedNotes(body.Tables, speedMetresPerSecond),
                .. times.Notes,
            ];
    }

    /// <inheritdoc/>
    public Body Body { get; }

    /// <inheritdoc/>
    public double StrideSeconds { get; }

    /// <inheritdoc/>
    public double SpeedMetresPerSecond { get; }

    /// <inheritdoc/>
    public ImmutableArray<string> Notes { get; }

    /// <summary>Gets the share of the stride during which a foot is on the ground. [unitless]</summary>
    public double StanceFraction { get; }

    /// <summary>Gets the length of a stride: two steps. [m]</summary>
    public double StrideMetres => SpeedMetresPerSecond * StrideSeconds;

    /// <summary>Gets the number of steps in a second, two for each stride. [1/s]</summary>
    public double CadenceStepsPerSecond => 2 / StrideSeconds;

    /// <summary>Gets how far the pelvis of the walkers of the curves leans forward: the hip angle of the curves less this is the angle of
    /// the thigh from the vertical. [°]</summary>
    public double PelvisLeanDegrees => _legs.PelvisLeanDegrees;

    /// <summary>Gets how much lower than standing pelvis and head are on average. [m]</summary>
    public double LoweredMetres => _legs.LoweredMetres;

    /// <summary>Makes the gait of a wearer at a walking speed.</summary>
    /// <param name="body">The body.</param>
    /// <param name="speedMetresPerSecond">Walking speed, from 0.1 to 3. [m/s]</param>
    /// <param name="caneTechnique">How a cane is swept, if one is carried.</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="speedMetresPerSecond"/> is outside its range.</exception>
    public static Gait Of(Body body, double speedMetresPerSecond, CaneTechnique caneTechnique = CaneTechnique.ConstantContact)
    {
        ArgumentNullException.ThrowIfNull(body);
        Finite.Within(speedMetresPerSecond, SlowestMetresPerSecond, FastestMetresPerSecond, "Walking speed", "m/s");
        return new Gait(body, speedMetresPerSecond, caneTechnique);
    }

    /// <inheritdoc/>
    public PosedBody PoseAt(double stridePhase) => _sway.PoseAt(stridePhase, _legs.Step, _caneTipRise);

    private static IEnumerable<string> CurveNotes(Body body, double speed, double adultSpeed)
    {
        (double slowest, double fastest) = JointAngles.Measured(body.Tables.GaitCurves);
        if (adultSpeed < slowest || adultSpeed > fastest)
        {
            double scale = speed / adultSpeed;
            yield return $"{speed:0.00} m/s is outside {slowest * scale:0.00} to {fastest * scale:0.00} m/s, where the joint curves were measured (for this leg length); the curves of the nearer end are used on a stride scaled in length and time.";
        }

        if (body.Dimensions.IsChild)
        {
            yield return "Joint curves of a child are those of adults at the same Froude number: no curves of children are tabled.";
        }
    }
}
