using System.Collections.Immutable;
using SonarGeom.Echoes;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Cli.Results;

/// <summary>The half angle at which a beam falls to a level.</summary>
internal readonly record struct BeamwidthRow(string Beam, string Plane, double LevelDecibels, double HalfAngleDegrees);

/// <summary>How far a target is heard on the boresight.</summary>
internal readonly record struct HearingRow(string Target, double? FarthestMetres);

/// <summary>A level in a direction off the boresight.</summary>
internal readonly record struct BeamRow(double AngleDegrees, double HorizontalTwoWayDecibels, double VerticalTwoWayDecibels);

/// <summary>The figures of a transducer.</summary>
internal static class TransducerTables
{
    /// <summary>Gets the figures.</summary>
    internal static ResultTable<PreparedTransducer> Summary { get; } = new(
        new("transducer", null, p => Cell.Of(p.Transducer.Name)),
        new("description", null, p => Cell.Of(p.Transducer.Description)),
        new("nominal_frequency_khz", "frequency [kHz]", p => Cell.Of(p.Transducer.NominalFrequency.Kilohertz, 3)),
        new("transmit_beam", null, p => Cell.Of(p.Transducer.Transmit.Description)),
        new("receive_beam", null, p => Cell.Of(p.Transducer.Receive.Description)),
        new("separation_m", "transmitter to receiver [m]", p => Cell.Of(p.Transducer.SeparationMetres, 4)),
        new("source_level_db_re_20upa_at_1m", "source level at 1 m [dB re 20 µPa]", p => Cell.Of(p.Transducer.SourceLevelDecibels, 1)),
        new("burst_cycles", "burst [cycles]", p => Cell.Of(p.Transducer.BurstCycles)),
        new("burst_us", "burst [µs]", p => Cell.Of(p.Transducer.BurstSeconds * 1e6, 1)),
        new("burst_build_up_db", "build-up of the burst [dB]", p => Cell.Of(p.Transducer.BuildUpDecibels, 1)),
        new("transmitter_q", "Q of the transmitter", p => Cell.Of(p.Transducer.TransmitterQ, 1)),
        new("receiver_q", "Q of the receiver", p => Cell.Of(p.Transducer.ReceiverQ, 1)),
        new("threshold_at_window_end_db_re_20upa", "threshold at the end of listening [dB re 20 µPa]", p => Cell.Of(p.Transducer.Threshold.LevelDecibels(p.Transducer.ListeningWindowSeconds), 1)),
        new("noise_db_re_20upa", "noise in the band [dB re 20 µPa]", p => Cell.Of(p.Transducer.NoiseLevelDecibels, 1)),
        new("figure_of_merit_db", "figure of merit [dB]", p => Cell.Of(p.Transducer.LateFigureOfMeritDecibels, 1)),
        new("figure_of_merit_uncertainty_db", "± [dB]", p => Cell.Of(p.Transducer.Evidence.FigureOfMeritUncertaintyDecibels, 1)),
        new("dead_zone_m", "dead zone [m]", p => Cell.Of(p.DeadZoneMetres, 3)),
        new("listening_to_m", "listens to [m]", p => Cell.Of(p.WindowRangeMetres, 2)),
        new("range_target", null, p => Cell.Of(p.Transducer.Evidence.RangeTarget)),
        new("confidence", null, p => Cell.Of(p.Transducer.Evidence.Confidence)),
        new("source", null, p => Cell.Of(p.Transducer.Evidence.Source)));

    /// <summary>Gets the beamwidths.</summary>
    internal static ResultTable<BeamwidthRow> Beamwidths { get; } = new(
        new("beam", "beam", r => Cell.Of(r.Beam)),
        new("plane", "plane", r => Cell.Of(r.Plane)),
        new("level_db", "level [dB]", r => Cell.Of(r.LevelDecibels, 0)),
        new("half_angle_deg", "half angle [°]", r => Cell.Of(r.HalfAngleDegrees, 1)));

    /// <summary>Gets how far targets are heard.</summary>
    internal static ResultTable<HearingRow> Hearing { get; } = new(
        new("target", "target on the boresight", r => Cell.Of(r.Target)),
        new("heard_to_m", "heard to [m]", r => Cell.Of(r.FarthestMetres, 2)));

    /// <summary>Gets the threshold over time.</summary>
    internal static ResultTable<ThresholdPoint> Threshold { get; } = new(
        new("time_ms", "time [ms]", p => Cell.Of(p.TimeSeconds * 1000, 2)),
        new("level_db_re_20upa", "threshold [dB re 20 µPa]", p => Cell.Of(p.LevelDecibels, 1)));

    /// <summary>Gets how claims agree.</summary>
    internal static ResultTable<ClaimResidual> Claims { get; } = new(
        new("claim", "claim", r => Cell.Of(r.Claim.Description)),
        new("residual_db", "residual [dB]", r => Cell.Of(r.ResidualDecibels, 1)),
        new("contradicts", "contradicts", r => Cell.Of(r.Contradicts)));

    /// <summary>Gets the beam, degree by degree.</summary>
    internal static ResultTable<BeamRow> Beam { get; } = new(
        new("off_axis_deg", "off axis [°]", r => Cell.Of(r.AngleDegrees, 0)),
        new("horizontal_two_way_db", "horizontal, two-way [dB]", r => Cell.Of(r.HorizontalTwoWayDecibels, 2)),
        new("vertical_two_way_db", "vertical, two-way [dB]", r => Cell.Of(r.VerticalTwoWayDecibels, 2)));

    /// <summary>Returns the half angles one way and two ways.</summary>
    internal static ImmutableArray<BeamwidthRow> BeamwidthRows(PreparedTransducer prepared)
    {
        var rows = ImmutableArray.CreateBuilder<BeamwidthRow>();
        Directivity transmit = prepared.Transducer.Transmit, receive = prepared.Transducer.Receive;
        foreach (bool vertical in transmit.IsAxisymmetric && receive.IsAxisymmetric ? (bool[])[false] : [false, true])
        {
            string plane = transmit.IsAxisymmetric && receive.IsAxisymmetric ? "every" : vertical ? "vertical" : "horizontal";
            foreach (double level in (double[])[-3, -6])
            {
                rows.Add(new("transmitter", plane, level, transmit.HalfAngleAt(level, prepared.WavenumberRadiansPerMetre, vertical).Degrees));
                rows.Add(new("receiver", plane, level, receive.HalfAngleAt(level, prepared.WavenumberRadiansPerMetre, vertical).Degrees));
            }
        }

        return rows.ToImmutable();
    }

    /// <summary>Returns how far the usual targets are heard.</summary>
    internal static ImmutableArray<HearingRow> HearingRows(PreparedTransducer prepared)
    {
        (string Name, TargetPart Part)[] targets =
        [
            ("large wall, square on", new PlanePart("wall", Vec3.Zero, -Vec3.UnitX)),
            ("75 mm pole, 2 m tall", new CylinderPart("pole", new Vec3(0, 0, -1), new Vec3(0, 0, 1), 0.0375)),
            ("25 mm pole, 2 m tall", new CylinderPart("pole", new Vec3(0, 0, -1), new Vec3(0, 0, 1), 0.0125)),
            ("30 mm branch, 400 mm long", new CylinderPart("branch", new Vec3(0, -0.2, 0), new Vec3(0, 0.2, 0), 0.015)),
            ("100 mm sphere", new SpherePart("sphere", Vec3.Zero, 0.05)),
            ("25 mm sphere", new SpherePart("sphere", Vec3.Zero, 0.0125)),
        ];
        return [.. targets.Select(t => new HearingRow(t.Name, HearingRange.FarthestMetres(prepared, t.Part)))];
    }

    /// <summary>Returns the two-way beam every degree from the boresight to the side.</summary>
    internal static ImmutableArray<BeamRow> BeamRows(PreparedTransducer prepared) =>
        [.. Enumerable.Range(0, 90).Select(d => new BeamRow(d, TwoWay(prepared, d, false), TwoWay(prepared, d, true)))];

    private static double TwoWay(PreparedTransducer prepared, double degrees, bool vertical)
    {
        var angle = Angle.FromDegrees(degrees);
        double k = prepared.WavenumberRadiansPerMetre;
        return Decibels.FromAmplitudeRatio(
            prepared.Transducer.Transmit.AmplitudeAt(angle, k, vertical) * prepared.Transducer.Receive.AmplitudeAt(angle, k, vertical));
    }
}
