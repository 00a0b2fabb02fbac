using SonarGeom.Echoes;

namespace SonarGeom.Coverage;

/// <summary>A margin if nothing came before the echo or stood in its way, with what tells how far a turn of the sensor can change it.</summary>
internal struct BareNote
{
    /// <summary>The margin. [dB]</summary>
    internal double MarginDecibels;

    /// <summary>What tells how far a turn can change it.</summary>
    internal TurnReach Reach;
}

/// <summary>Margins of one sensor in one cell at the two heel strikes, with the place and the move of the sensor that they are true of.</summary>
internal struct SensorNotes
{
    /// <summary>The place, counted from 1; 0 for none.</summary>
    internal int Place;

    /// <summary>The move of the sensor.</summary>
    internal int Move;

    /// <summary>The pose of the sensor within its era.</summary>
    internal byte Pose;

    internal BareNote First;

    internal BareNote Second;
}
