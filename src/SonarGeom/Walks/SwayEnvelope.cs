using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Quantities;

namespace SonarGeom.Walks;

/// <summary>A walking posture that sways as walkers do: head, trunk and pelvis rise, shift and turn by the tabled amounts, arms and
/// legs swing. It is not a gait: joint angles over the stride are not reproduced.</summary>
/// <remarks>
/// <para>The middle of the head (half way from chin to crown) and the middle of the pelvis move by exactly the tabled amounts; the
/// lean of the trunk follows from their difference. Half a stride on, the body is its own mirror image exactly.</para>
/// <para>The mean height is that of standing still, which is an upper bound: at mid-stance real walkers are about as high as
/// standing, and lower at other times. The leading leg therefore reaches less far ahead than in a real stride.</para>
/// <para>A wearer in a wheelchair sits still.</para>
/// </remarks>
public sealed class SwayEnvelope : IWalkingMotion
{
    private const double SlowestMetresPerSecond = 0.1;
    private const double FastestMetresPerSecond = 3;

    private readonly UpperBodySway _sway;
    private readonly SwingingLegs _legs;

    private SwayEnvelope(Body body, double speedMetresPerSecond)
    {
        Body = body;
        SpeedMetresPerSecond = speedMetresPerSecond;
        _sway = new UpperBodySway(body, speedMetresPerSecond);
        StrideTimes times = StrideTimes.Of(body, speedMetresPerSecond);
        StrideSeconds = times.StrideSeconds;
        _legs = new SwingingLegs(body, times.StanceShare, speedMetresPerSecond * times.StrideSeconds, _sway.WorldFromPelvis);
        Notes = body.Poses.IsSeated
            ? ["The wearer sits still; the sway of pushing a wheelchair is not modelled."]
            :
            [
                "Sway of sighted walkers; head and pelvis amounts from published peak values (B), trunk, arms and pelvis turns from example sets or children (C to D).",
                "The sideways lean of the trunk follows from head and pelvis sway; the larger lean of an example set (3.2° in all) is not used.",
                "Mean height is that of standing still, an upper bound by about half the rise; the leading leg reaches less far ahead than in a real stride.",
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

    /// <summary>Makes the sway of a wearer at a walking speed.</summary>
    /// <param name="body">The body.</param>
    /// <param name="speedMetresPerSecond">Walking speed, from 0.1 to 3. [m/s]</param>
    /// <exception cref="ArgumentOutOfRangeException"><paramref name="speedMetresPerSecond"/> is outside its range.</exception>
    public static SwayEnvelope Of(Body body, double speedMetresPerSecond)
    {
        ArgumentNullException.ThrowIfNull(body);
        Finite.Within(speedMetresPerSecond, SlowestMetresPerSecond, FastestMetresPerSecond, "Walking speed", "m/s");
        return new SwayEnvelope(body, speedMetresPerSecond);
    }

    /// <inheritdoc/>
    public PosedBody PoseAt(double stridePhase) => _sway.PoseAt(stridePhase, _legs.Swing);
}
