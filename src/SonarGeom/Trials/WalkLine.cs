namespace SonarGeom.Trials;

/// <summary>How one walk strays from its line: place beside it and heading off it, at every step.</summary>
internal sealed class WalkLine
{
    private readonly double[] _aside;
    private readonly double[] _heading;
    private readonly double _step;

    /// <summary>Draws a walk.</summary>
    /// <param name="settings">How it may stray.</param>
    /// <param name="lengthMetres">Length of the way. [m]</param>
    /// <param name="stepMetres">Length of a step. [m]</param>
    /// <param name="draws">The random numbers of this walk.</param>
    internal WalkLine(TrialSettings settings, double lengthMetres, double stepMetres, ref SeededDraws draws)
    {
        const double Radians = Math.PI / 180;
        int steps = (int)Math.Ceiling(lengthMetres / stepMetres) + 2;
        _step = stepMetres;
        _aside = new double[steps];
        _heading = new double[steps];
        double y = settings.AsideSpreadMetres * draws.Bounded();
        double heading = settings.HeadingSpreadDegrees * Radians * draws.Bounded();
        double turnBack = settings.CorrectionMetres;

        // Steps longer than the correction would swing ever wider: they only turn back more gently.
        double reach = Math.Max(turnBack, 2 * stepMetres);
        for (int i = 0; i < steps; i++)
        {
            _aside[i] = y;
            _heading[i] = heading;
            heading += (settings.VeerDegrees * Radians * draws.Bounded()) - (stepMetres * ((2 * heading / reach) + (y / (reach * reach))));
            y += stepMetres * Math.Sin(heading);
        }
    }

    /// <summary>Returns the place beside the line, left positive, and the heading off it. [m, rad]</summary>
    /// <param name="alongMetres">Way from the start. [m]</param>
    internal (double AsideMetres, double HeadingRadians) At(double alongMetres)
    {
        double at = Math.Clamp(alongMetres / _step, 0, _aside.Length - 1.000001);
        int i = (int)at;
        double share = at - i;
        return (((1 - share) * _aside[i]) + (share * _aside[i + 1]), ((1 - share) * _heading[i]) + (share * _heading[i + 1]));
    }
}
