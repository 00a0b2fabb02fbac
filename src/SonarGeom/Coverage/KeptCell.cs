namespace SonarGeom.Coverage;

/// <summary>What the search found in one cell, and what of it has to be looked at again although all answers stand.</summary>
internal struct KeptCell
{
    internal CellOutcome Outcome;

    /// <summary>Whether anything has been found.</summary>
    internal bool IsFound;

    /// <summary>The era of the sensors that it was found in; see <see cref="ReportMemory.Era"/>.</summary>
    internal int Era;

    /// <summary>The place of the first report, whose best sensor was told.</summary>
    internal int Chosen;

    /// <summary>The place whose cause was told; −1 for none.</summary>
    internal int Explained;

    /// <summary>A bit for each sensor whose margins decided which is best.</summary>
    internal ulong Compared;
}

/// <summary>How far the answers of one sensor that a cell rests on stand.</summary>
internal struct Standing
{
    /// <summary>They all do while the sensor is turned by less than this away from <see cref="Pose"/>. [rad]</summary>
    internal float SafeRadians;

    /// <summary>So they do while it is turned by less than this and its faces are where they were. [rad]</summary>
    internal float SafeStillRadians;

    /// <summary>The number of a pose of the sensor.</summary>
    internal byte Pose;

    /// <summary>The largest range of the reports among them, which floor and limbs must not come before. [m]</summary>
    internal float RangeMetres;

    /// <summary>The move of the sensor that it was last looked at after.</summary>
    internal int Move;
}
