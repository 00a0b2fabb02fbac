using System.Collections.Immutable;

namespace SonarGeom.Coverage;

/// <summary>Grid of the approach maps.</summary>
/// <param name="CellMetres">Edge of a cell. [m]</param>
/// <param name="MarginMetres">Border around the swept silhouette. [m]</param>
/// <param name="HorizonMetres">Farthest distance ahead that is searched for a first report. [m]</param>
/// <param name="DistanceStepMetres">Largest step of that search before refinement; nearer than 0.9 m the steps grow ever finer, to a tenth of it. [m]</param>
public sealed record MapSettings(
    double CellMetres = 0.02,
    double MarginMetres = 0.10,
    double HorizonMetres = 3.2,
    double DistanceStepMetres = 0.20)
{
    // Within this of the body the directions of a hazard change with every centimetre: steps there go with 0.1 m plus the distance.
    private const double NearMetres = 0.9;
    private const double FinestMetres = 0.1;

    /// <summary>Returns the distances that are looked at, from contact outward, the last useful distance among them.</summary>
    /// <param name="needMetres">The last useful distance. [m]</param>
    /// <param name="stepShare">Share of <see cref="DistanceStepMetres"/> that the largest step has at most, 0 to 1. [unitless]</param>
    /// <returns>The distances and the index of the last useful one; at least one distance lies at or beyond it.</returns>
    internal (ImmutableArray<double> Metres, int Need) Distances(double needMetres, double stepShare)
    {
        double step = DistanceStepMetres * stepShare;
        double steps = StepsTo(needMetres) / step;
        int need = Math.Max(1, (int)Math.Ceiling(steps - 1e-9));
        double stretch = steps / need * step;
        var metres = ImmutableArray.CreateBuilder<double>();
        for (int i = 0; i <= need || MetresAt(i * stretch) <= HorizonMetres + 1e-9; i++)
        {
            metres.Add(i == need ? needMetres : MetresAt(i * stretch));
        }

        return (metres.ToImmutable(), need);
    }

    // The number of steps of 1 m that lead to a distance, and the distance to which a number of them lead.
    private static double StepsTo(double metres) =>
        Math.Log(1 + (Math.Min(metres, NearMetres) / FinestMetres)) + Math.Max(0, metres - NearMetres);

    private static double MetresAt(double steps)
    {
        double near = Math.Log(1 + (NearMetres / FinestMetres));
        return steps <= near ? FinestMetres * (Math.Exp(steps) - 1) : NearMetres + steps - near;
    }
}
