using System.Collections.Immutable;
using SonarGeom.Bodies;
using SonarGeom.Transducers;

namespace SonarGeom.Studies;

/// <summary>What studies draw on besides the scenario.</summary>
/// <param name="Tables">The body tables.</param>
/// <param name="Parts">The transducers that may take another's place when a change is sought.</param>
public sealed record StudyResources(BodyTables Tables, ImmutableArray<Transducer> Parts);

/// <summary>How far a study has come.</summary>
/// <param name="Stage">What is being done, in words.</param>
/// <param name="DoneFraction">Share of the whole, 0 to 1. [unitless]</param>
public readonly record struct StudyProgress(string Stage, double DoneFraction);
