using SonarGeom.Bodies;
using SonarGeom.Coverage;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Reports;

/// <summary>The words of a report, one meaning each.</summary>
internal static class Definitions
{
    /// <summary>Returns the terms with the figures of one study.</summary>
    internal static IEnumerable<(string Term, string Meaning)> Of(StudyReport report)
    {
        WalkSettings walk = report.Scenario.Walk;
        return
        [
            ("Warning time", "Distance ahead of the foremost body point on the hazard's way, divided by the closing speed, when it is first reliably reported."),
            ("Time needed", $"Required hits × firing cycle + alert latency + reaction + speed ÷ (2 × deceleration): here {report.TimeNeededSeconds:0.00} s."),
            ("Reliably reported", walk.Hold == HoldRule.DeadZone
                ? $"Reported in at least {FigureWords.Percent(walk.ReliableShare)} of the stride phases at that distance and at every nearer one down to the dead zone."
                : $"Reported in at least {FigureWords.Percent(walk.ReliableShare)} of the stride phases at that distance and at every nearer one down to the distance at which the wearer must act; \"without a later break\" means down to the dead zone."),
            ("Detection margin", "Echo level less detection threshold, in decibels; 0 dB or more is a report."),
            ("Limiting cause", "The one factor whose removal alone would bring the margin to 0 dB or more; if none does, the largest loss."),
            ("Dead zone", "So near that the echo hides under the ringing of the transmission. Not to be confused with a blind zone."),
            ("Blind zone", "Connected cells of one height band of the silhouette that are not warned in time. Never heard: no reliable report at any distance; otherwise heard too late."),
            ("Specular", "The surface acts as a mirror and sends the echo past the receiver."),
            ("Silhouette", "What the wearer's body sweeps over the stride, seen from the front; the cane is left out."),
            ("Head band", $"From {HeightBands.BelowChinMetres * 1000:0} mm below the chin to {HeightBands.AboveCrownMetres * 1000:0} mm above the crown in shoes; chest from the base of the breastbone, waist from the crotch, knee from the middle of the shin, foot from the ground."),
            ("Tilt and azimuth", "Boresight against the horizontal, positive up, and against straight ahead, positive left, with the wearer upright in the neutral pose; then fixed to the part of the body that carries the sensor."),
            ("Figure of merit", "Source level and burst build-up over the detection threshold: all two-way losses together may be as large."),
            ("Smallest change", "The cheapest single change that mends an obstacle: cost 1 for each 5° or 3 dB, 4 for another site, 6 for another part (assumed)."),
            ("Probe", "A small target of stated shape and attitude, centred on each cell of a map in turn."),
        ];
    }
}
