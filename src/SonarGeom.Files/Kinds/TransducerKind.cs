using System.Collections.Immutable;
using SonarGeom.Air;
using SonarGeom.Files.Shapes;
using SonarGeom.Geometry;
using SonarGeom.Quantities;
using SonarGeom.Transducers;

namespace SonarGeom.Files.Kinds;

/// <summary>How transducers are written: by figures and a beam, of which a measured polar table is one, or by detection claims.</summary>
internal static class TransducerKind
{
    /// <summary>How far a stated figure of merit may be from the one that the other figures give. [dB]</summary>
    internal const double FigureOfMeritToleranceDecibels = 0.5;

    private static readonly NumberShape Level = new(0, 180);
    private static readonly NumberShape Quality = new(0.5, 1000);

    private static readonly ObjectShape<ThresholdPoint> Threshold = new("threshold_point", "One point of the detection threshold; straight lines in decibels between points.", m =>
    {
        Member<double> time = m.Required("time_ms", new NumberShape(0, 1000), "The time since the start of the burst; points follow one another in rising time. [ms]");
        Member<double> level = m.Required("level_db_re20uPa", new NumberShape(-40, 160), "The rms level at the receiver face that is just detected. [dB re 20 µPa]");
        return v => new ThresholdPoint(time.From(v) / 1000, level.From(v));
    });

    private static readonly ObjectShape<TransducerEvidence> Evidence = new("evidence", "Where the figures come from and how sure they are.", m =>
    {
        Member<string> target = m.Required("range_target", new TextShape(1000), "The target, range and air for which the stated range holds.");
        Member<string> confidence = m.Required("confidence", new TextShape(1000), "How sure the figures are.");
        Member<double> uncertainty = m.Required("figure_of_merit_uncertainty_db", new NumberShape(0, 40), "The figure of merit is known to plus or minus this much. [dB]");
        Member<string> source = m.Required("source", new TextShape(1000), "The source of the figures.");
        return v => new TransducerEvidence(target.From(v), confidence.From(v), uncertainty.From(v), source.From(v));
    });

    /// <summary>Gets the kind.</summary>
    internal static DocumentKind<TransducerFile> Kind { get; } = new(
        "transducer",
        "transducers",
        "An ultrasonic range finder: one part that sends and listens, or two side by side. Given by its figures and beam, or by detection claims.",
        Describe);

    private static Func<MemberValues, TransducerFile> Describe(MemberSet m)
    {
        Member<string> name = m.Required("name", new TextShape(60), "The name.");
        Member<string> description = m.Optional("description", new TextShape(1000, mayBeEmpty: true), string.Empty, "What it is, in a sentence.");
        Member<double> frequency = m.Required("nominal_frequency_khz", new NumberShape(15, 500), "The frequency of the burst and of both resonances. [kHz]");
        Member<Directivity> transmit = m.Maybe("transmit", DirectivityShapes.Beam, "The beam of the transmitter; needed unless claims decide it.");
        Member<Directivity> receive = m.Maybe("receive", DirectivityShapes.Beam, "The beam of the receiver; that of the transmitter when left out.");
        Member<Vec3> transmitter = m.Optional("transmitter_offset_m", new Vec3Shape(-1, 1), Vec3.Zero, null, "The transmitter face in the sensor frame: ahead, left, up. [m]");
        Member<Vec3> receiver = m.Optional("receiver_offset_m", new Vec3Shape(-1, 1), Vec3.Zero, null, "The receiver face in the sensor frame: ahead, left, up. [m]");
        Member<double> atOne = m.Maybe("source_level_db_re20uPa_at_1m", Level, "The continuous-tone rms level on the boresight at 1 m, losses of the air taken out. [dB re 20 µPa]");
        Member<double> atThird = m.Maybe(
            "spl_db_re20uPa_at_0p30m", Level, "In place of the source level: the rms level on the boresight at 0.30 m, as data sheets state it, in air of 20 °C and 50 %. [dB re 20 µPa]");
        Member<ImmutableArray<ThresholdPoint>> threshold = m.Maybe("threshold", new ListShape<ThresholdPoint>(Threshold, 1, 1000), "The detection threshold against time.");
        Member<ImmutableArray<DetectionClaim>> claims = m.Maybe(
            "claims", new ListShape<DetectionClaim>(ClaimShapes.Claim, 1, 200), "In place of beam and threshold: what the maker or a trial says it detects.");
        Member<double> tolerance = m.Optional("claim_tolerance_db", new NumberShape(0.1, 20), ClaimSolver.DefaultToleranceDecibels, "The largest disagreement of claims that is accepted. [dB]");
        Member<double> noise = m.Optional("noise_level_db_re20uPa", new NumberShape(-60, 140), 45, "The noise in the band of the receiver, as a level at its face. [dB re 20 µPa]");
        Member<int> cycles = m.Optional("burst_cycles", new WholeNumberShape(1, 1000), 8, "The number of cycles sent.");
        Member<double> transmitterQ = m.Optional("transmitter_q", Quality, 25, "The quality factor of the transmitter. [unitless]");
        Member<double> receiverQ = m.Optional("receiver_q", Quality, 25, "The quality factor of the receiver. [unitless]");
        Member<double> blanking = m.Required("blanking_ms", new NumberShape(0, 1000), "The time from the start of the burst during which nothing is heard. [ms]");
        Member<double> ringDown = m.Optional("ring_down_ms", new NumberShape(0, 1000), 0, "The time from the start of the burst until the own ringing is below the threshold. [ms]");
        Member<double> window = m.Required("listening_window_ms", new NumberShape(0, 1000, aboveLeast: true), "The time from the start of the burst at which listening ends. [ms]");
        Member<double> merit = m.Maybe(
            "figure_of_merit_db", new NumberShape(-100, 200), "Source level and burst build-up over the threshold at the end of the window; checked against the other figures. [dB]");
        Member<TransducerEvidence> evidence = m.Maybe("evidence", Evidence, "Where the figures come from and how sure they are; claims are their own evidence.");
        m.ExactlyOne(threshold, claims);
        m.AtMostOne(atOne, atThird);
        return v =>
        {
            bool byClaims = claims.IsGivenIn(v);
            if (!byClaims)
            {
                Need(v, transmit, transmit.IsGivenIn(v));
                Need(v, atOne, atOne.IsGivenIn(v) || atThird.IsGivenIn(v));
                Need(v, evidence, evidence.IsGivenIn(v));
            }

            Frequency nominal = Frequency.FromKilohertz(frequency.From(v));
            double level = atThird.OrNull(v) is { } stated
                ? Transducer.SourceLevelFrom(stated, Transducer.DataSheetRangeMetres, AirAbsorption.DecibelsPerMetre(AirState.Standard, nominal))
                : atOne.OrNull(v) ?? AssumedSourceLevelDecibels;
            Directivity beam = transmit.IsGivenIn(v) ? transmit.From(v) : new CircularPiston(AssumedRadiusMetres);
            Transducer transducer = new(
                name.From(v),
                description.From(v),
                nominal,
                beam,
                receive.IsGivenIn(v) ? receive.From(v) : beam,
                transmitter.From(v),
                receiver.From(v),
                level,
                byClaims ? ThresholdProfile.Constant(level / 2) : new ThresholdProfile(threshold.From(v)),
                noise.From(v),
                cycles.From(v),
                transmitterQ.From(v),
                receiverQ.From(v),
                blanking.From(v) / 1000,
                window.From(v) / 1000,
                evidence.IsGivenIn(v) ? evidence.From(v) : NoEvidence)
            {
                RingDownSeconds = ringDown.From(v) / 1000,
            };
            ClaimSolution? solution = byClaims ? ClaimSolver.Solve(claims.From(v), nominal, tolerance.From(v)) : null;
            if (solution is not null && Solved(v, claims, solution, transducer, transmit.IsGivenIn(v)) is { } solved)
            {
                transducer = solved;
            }

            double figure = transducer.LateFigureOfMeritDecibels;
            if (merit.OrNull(v) is { } claimed && Math.Abs(claimed - figure) > FigureOfMeritToleranceDecibels)
            {
                v.Fault(
                    merit,
                    $"figure_of_merit_db is {NumberShape.Digits(claimed)}, but source level, build-up and threshold give {figure:0.0}; they must agree within {FigureOfMeritToleranceDecibels} dB.");
            }

            return new TransducerFile(transducer, solution);
        };
    }

    // Only the difference of source level and threshold decides what is detected, so that any level serves with claims.
    private const double AssumedSourceLevelDecibels = 100;

    // Stands until the claims have decided the beam.
    private const double AssumedRadiusMetres = 6.5e-3;

    private static TransducerEvidence NoEvidence { get; } = new("none stated", "none stated", 40, "none stated");

    private static void Need(MemberValues v, Member member, bool isThere)
    {
        if (!isThere)
        {
            v.Fault($"{member.Name} is missing; it must be {member.Allowed}, unless the transducer is given by claims.");
        }
    }

    private static Transducer? Solved(MemberValues v, Member claims, ClaimSolution solution, Transducer template, bool hasBeam)
    {
        if (!solution.IsConsistent)
        {
            string residuals = string.Join("; ", solution.Residuals.Select(r => $"{r.Claim.Description}: {r.ResidualDecibels:+0.0;-0.0;0.0} dB"));
            v.Fault(claims, $"claims contradict one another, so that no transducer fulfils them within {solution.ToleranceDecibels:0.##} dB ({residuals}).");
            return null;
        }

        if (solution.EffectiveRadiusMetres is null && !hasBeam)
        {
            v.Fault(claims, "claims are all at one angle and do not decide the beam; add one at another angle, or give transmit.");
            return null;
        }

        try
        {
            return solution.ApplyTo(template);
        }
        catch (Exception e) when (e is InvalidOperationException or ArgumentException)
        {
            v.Fault(claims, $"claims cannot be used: {(e is ArgumentException a ? Sentences.Of(a) : e.Message)}");
            return null;
        }
    }
}
