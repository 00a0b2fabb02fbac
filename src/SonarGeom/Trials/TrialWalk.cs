using SonarGeom.Coverage;
using SonarGeom.Geometry;
using SonarGeom.Obstacles;
using SonarGeom.Quantities;

namespace SonarGeom.Trials;

/// <summary>One walk of an outing through a place: the way taken and when what is touched. The same for all layouts.</summary>
internal sealed class TrialWalk
{
    private const double ScanMetres = 0.05;

    private readonly Outing _outing;
    private readonly WalkLine _line;
    private readonly double _startPhase;

    private TrialWalk(Outing outing, TrialPlace place, int number, WalkLine line, double startPhase)
    {
        _outing = outing;
        Place = place;
        Number = number;
        _line = line;
        _startPhase = startPhase;
        Touches = new WalkTouch[place.Hazards.Length];
        for (int h = 0; h < Touches.Length; h++)
        {
            Touches[h] = TouchOf(h);
        }
    }

    internal TrialPlace Place { get; }

    /// <summary>Gets the number of the walk among those of its outing and place.</summary>
    internal int Number { get; }

    /// <summary>Gets when each obstacle is touched, or passed.</summary>
    internal WalkTouch[] Touches { get; }

    internal double Seconds => Place.Path.LengthMetres / Speed;

    private double Speed => _outing.Walk.SpeedMetresPerSecond;

    /// <summary>Draws a walk.</summary>
    internal static TrialWalk Of(Outing outing, TrialPlace place, int number)
    {
        TrialSettings settings = outing.Course.Settings;
        var draws = new SeededDraws(settings.Seed, 3, (ulong)outing.Number, (ulong)number, SeededDraws.KeyOf(place.Name));
        double phase = draws.Uniform();
        var line = new WalkLine(settings, place.Path.LengthMetres, outing.StepMetres, ref draws);
        return new TrialWalk(outing, place, number, line, phase);
    }

    /// <summary>Returns the stride phase at a time, from 0 to below 1.</summary>
    internal double PhaseAt(double seconds)
    {
        double phase = _startPhase + (seconds / _outing.StrideSeconds);
        return phase - Math.Floor(phase);
    }

    /// <summary>Returns where the wearer is at a time.</summary>
    internal RigidTransform WorldFromWalker(double seconds)
    {
        double along = Speed * seconds;
        (double aside, double heading) = _line.At(along);
        int stretch = Place.Path.StretchAt(along);
        RigidTransform frame = Place.Path.WorldFromStretch(stretch);
        return frame * new RigidTransform(
            Rotation.AboutZ(Angle.FromRadians(heading)), new Vec3(along - Place.Path.StartMetres(stretch), aside, 0));
    }

    /// <summary>Returns how far an obstacle is from where it is listed. [m]</summary>
    /// <remarks>What comes by itself is at its listed place when the wearer gets there.</remarks>
    internal Vec3 OffsetMetres(int hazard, double seconds)
    {
        Hazard its = Place.Hazards[hazard];
        if (its.OwnSpeed == 0)
        {
            return Vec3.Zero;
        }

        double early = Touches[hazard].Seconds - seconds;
        return its.OwnSpeed * early * Place.Path.WorldFromStretch(Touches[hazard].Stretch).Rotation.AxisX;
    }

    // Way by way in small steps along each stretch on which the obstacle stands in view.
    private WalkTouch TouchOf(int hazard)
    {
        Hazard its = Place.Hazards[hazard];
        TrialPath path = Place.Path;
        double passed = 0;
        int passedOn = 0;
        for (int stretch = 0; stretch < path.StretchCount; stretch++)
        {
            TouchFront front = its.Fronts[stretch];
            if (front.IsEmpty)
            {
                continue;
            }

            double start = path.StartMetres(stretch);
            double end = stretch + 1 < path.StretchCount ? path.StartMetres(stretch + 1) : path.LengthMetres;
            double from = Math.Max(start, start + front.NearestMetres - 1), to = Math.Min(end, start + front.FarthestMetres + 0.5);
            if (to > from && passed == 0)
            {
                (passed, passedOn) = (Math.Max(start, Math.Min(end, start + front.NearestMetres)), stretch);
            }

            for (double along = from; along <= to; along += ScanMetres)
            {
                Touch touch = _outing.TouchAt(Place, hazard, stretch, (int)Math.Round(_line.At(along).AsideMetres / TouchFront.CellMetres));
                if (along >= start + touch.AlongMetres)
                {
                    double at = Math.Max(along - ScanMetres, start + touch.AlongMetres);
                    return new WalkTouch(true, Math.Max(at, 0) / Speed, stretch, touch.Side);
                }
            }
        }

        return new WalkTouch(false, passed / Speed, passedOn, 0);
    }
}
