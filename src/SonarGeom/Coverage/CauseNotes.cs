using SonarGeom.Echoes;

namespace SonarGeom.Coverage;

/// <summary>Why one sensor at one stride phase does not hear the probe in a cell.</summary>
internal struct CauseNote
{
    /// <summary>The place, counted from 1; 0 for none.</summary>
    internal int Place;

    internal int Sensor;

    internal int Phase;

    /// <summary>The move of the sensor that <see cref="Cause"/> is true of.</summary>
    internal int Move;

    internal LimitingCause Cause;

    /// <summary>What of it turns of the sensor leave, as long as the move is of the sensor's present era.</summary>
    internal SteadyFacts? Steady;
}

/// <summary>The causes noted in a cell: of the sensor nearest to hearing, and of its worst phase when it does hear.</summary>
internal struct CauseNotes
{
    internal CauseNote Nearest;

    internal CauseNote Worst;
}
