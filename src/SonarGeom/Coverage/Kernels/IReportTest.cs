namespace SonarGeom.Coverage.Kernels;

/// <summary>
/// Answers whether a hazard is reported, at one phase of the stride and one distance. Implement it by a struct, so that the
/// search compiles to a loop of its own around it.
/// </summary>
public interface IReportTest
{
    /// <summary>Returns whether the hazard is reported.</summary>
    /// <param name="phase">The number of the stride phase, from 0.</param>
    /// <param name="distanceIndex">The number of the distance, from 0; a larger one is farther away.</param>
    bool IsReported(int phase, int distanceIndex);
}

/// <summary>
/// Answers whether a hazard is reported, and for how many distances farther out that answer is certain, for instance because
/// the margin cannot change by more than a known slope. Implement it by a struct.
/// </summary>
public interface IReportRunTest
{
    /// <summary>Returns the length of a run of equal answers that starts at a distance: n ≥ 1 when the hazard is reported at
    /// the n distances from <paramref name="distanceIndex"/> outward, −n when it is reported at none of them.</summary>
    /// <param name="phase">The number of the stride phase, from 0.</param>
    /// <param name="distanceIndex">The number of the distance, from 0; a larger one is farther away.</param>
    /// <remarks>The run may be shorter than the true one, never longer.</remarks>
    int ReportedRun(int phase, int distanceIndex);
}
