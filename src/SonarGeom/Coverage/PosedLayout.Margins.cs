using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Coverage;

/// <content>Detection margins: the one place where echo, threshold, dead zone, masks and shadows come together.</content>
public sealed partial class PosedLayout
{
    // How far a sensor strays from its place between the heel strikes, at most.
    private const double SwayMetres = 0.25;

    /// <summary>Returns the nearest range at which any of a probe can be, seen from a sensor between its two heel-strike places. [m]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="target">The probe.</param>
    /// <param name="atMetres">Its middle. [m]</param>
    public double NearestRangeMetres(int sensor, ProbeTarget target, Vec3 atMetres)
    {
        ArgumentNullException.ThrowIfNull(target);
        Vec3 d = atMetres - _sensors[sensor].RestMetres;
        double x = Math.Max(0, Math.Abs(d.X) - target.HalfDepthMetres);
        double y = Math.Max(0, Math.Abs(d.Y) - target.HalfWidthMetres);
        double z = Math.Max(0, Math.Abs(d.Z) - target.HalfHeightMetres);
        return Math.Sqrt((x * x) + (y * y) + (z * z));
    }

    /// <summary>Returns the distance from a sensor, between its two heel-strike places, to a point. [m]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="pointMetres">The point. [m]</param>
    public double DistanceMetres(int sensor, Vec3 pointMetres) => _sensors[sensor].RestMetres.DistanceTo(pointMetres);

    /// <summary>Returns a range beyond which a sensor cannot report a probe: here the end of its listening window. [m]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    public double ReachMetres(int sensor) => _sensors[sensor].WindowRangeMetres;

    /// <summary>Returns the detection margin of a probe at a position: 0 or more is a report. [dB]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="target">The probe.</param>
    /// <param name="atMetres">Its middle. [m]</param>
    /// <returns>The margin; −∞ in the dead zone, outside the listening window, or when another echo of the wearer comes first.</returns>
    public double MarginDecibels(int sensor, int phase, ProbeTarget target, Vec3 atMetres) =>
        Margin(sensor, phase, target.Parts.AsSpan(), atMetres, null, target.IsSmall, out _, out _);

    /// <summary>Returns whether a sensor would report a probe if its dead zone were shorter: silence there breaks no report off.</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="target">The probe.</param>
    /// <param name="atMetres">Its middle. [m]</param>
    public bool IsInsideDeadZone(int sensor, int phase, ProbeTarget target, Vec3 atMetres)
    {
        ArgumentNullException.ThrowIfNull(target);
        if (NearestRangeMetres(sensor, target, atMetres) > DeadZoneMetres(sensor) + SwayMetres)
        {
            return false;
        }

        Margin(sensor, phase, target.Parts.AsSpan(), atMetres, null, target.IsSmall, out _, out bool isDeaf);
        return isDeaf;
    }

    /// <summary>Returns the detection margin of a probe, and whether there would be a report if the dead zone were shorter. [dB]</summary>
    internal double MarginWithDeadZone(int sensor, int phase, ProbeTarget target, Vec3 atMetres, out bool isInDeadZone)
    {
        double margin = Margin(sensor, phase, target.Parts.AsSpan(), atMetres, null, target.IsSmall, out _, out isInDeadZone);
        isInDeadZone = isInDeadZone && NearestRangeMetres(sensor, target, atMetres) <= DeadZoneMetres(sensor) + SwayMetres;
        return margin;
    }

    /// <summary>Returns the best detection margin over parts moved by an offset, and whether there would be a report if the dead zone were shorter. [dB]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="parts">The parts.</param>
    /// <param name="offsetMetres">How far the parts are moved. [m]</param>
    /// <param name="others">Other obstacles that may stand in the way, or null.</param>
    /// <param name="isInDeadZone">Whether an echo from within the dead zone would be reported if that were shorter.</param>
    public double MarginWithDeadZone(
        int sensor, int phase, ReadOnlySpan<TargetPart> parts, Vec3 offsetMetres, Screen? others, out bool isInDeadZone) =>
        Margin(sensor, phase, parts, offsetMetres, others, isSmall: false, out _, out isInDeadZone);

    /// <summary>Returns the best detection margin over parts moved by an offset. [dB]</summary>
    /// <param name="sensor">Index of the sensor.</param>
    /// <param name="phase">Index of the stride phase.</param>
    /// <param name="parts">The parts.</param>
    /// <param name="offsetMetres">How far the parts are moved. [m]</param>
    /// <param name="others">Other obstacles that may stand in the way, in the frame of the unmoved parts; or null.</param>
    /// <param name="answering">Index of the part that answers best, or −1.</param>
    public double MarginDecibels(
        int sensor, int phase, ReadOnlySpan<TargetPart> parts, Vec3 offsetMetres, Screen? others, out int answering) =>
        Margin(sensor, phase, parts, offsetMetres, others, isSmall: false, out answering, out _);

    // A small target hides or shows as a whole: its middle stands for the glint.
    private double Margin(
        int sensor, int phase, ReadOnlySpan<TargetPart> parts, Vec3 offsetMetres, Screen? others, bool isSmall, out int answering, out bool isDeaf)
    {
        PosedSensor posed = _sensors[sensor];
        SensorAtPose pose = posed.Poses[phase];
        double best = double.NegativeInfinity;
        answering = -1;
        isDeaf = false;
        for (int i = 0; i < parts.Length; i++)
        {
            // Meshes and foliage are dear: their echo is computed once, glint and all.
            BandEcho echo = PartEchoes.EvaluateBand(pose, parts[i], offsetMetres, out Vec3 found);
            Vec3? glint = parts[i] is MeshPart or FoliagePart ? found : null;
            if (!posed.IsInTime(phase, echo.RangeMetres))
            {
                isDeaf = isDeaf || (echo.RangeMetres < posed.DeadZoneMetres && IsLoud(parts[i], echo));
                continue;
            }

            double margin = echo.LevelDecibels - pose.Prepared.DetectionThresholdDecibels(echo.RangeMetres);
            if (margin <= best)
            {
                continue;
            }

            if (margin >= 0 && (others is not null || !posed.Shadows[phase].IsClearAhead))
            {
                margin -= HiddenDecibels(posed, phase, isSmall ? offsetMetres : glint ?? PartEchoes.Evaluate(pose, parts[i], offsetMetres).GlintMetres, offsetMetres, others);
            }

            if (margin > best)
            {
                best = margin;
                answering = i;
            }
        }

        return best;

        bool IsLoud(TargetPart part, in BandEcho echo)
        {
            double margin = echo.LevelDecibels - pose.Prepared.DetectionThresholdDecibels(echo.RangeMetres);
            return margin >= 0 && margin >= HiddenDecibels(
                posed, phase, isSmall ? offsetMetres : PartEchoes.Evaluate(pose, part, offsetMetres).GlintMetres, offsetMetres, others);
        }
    }

    private static double HiddenDecibels(PosedSensor posed, int phase, Vec3 glint, Vec3 offset, Screen? others)
    {
        SensorAtPose pose = posed.Poses[phase];
        double free = posed.Shadows[phase].FreeFraction(glint - pose.MidpointMetres);
        double loss = free >= 1 ? 0 : free <= 0 ? double.PositiveInfinity : -40 * Math.Log10(free);
        if (others is not null && double.IsFinite(loss))
        {
            loss -= others.EchoLossDecibels(pose, glint, offset);
        }

        return loss;
    }
}
