using SonarGeom.Echoes;

namespace SonarGeom.Coverage;

/// <summary>Which stride phases of one sensor, at one distance of one cell, have been asked, and which of them heard the probe.</summary>
internal struct Answers
{
    /// <summary>A bit for each phase that has been asked.</summary>
    internal ulong Asked;

    /// <summary>A bit for each phase that heard.</summary>
    internal ulong Heard;

    /// <summary>A bit for each phase that only the dead zone kept from hearing.</summary>
    internal ulong Deaf;

    /// <summary>The move of the sensor that the answers are true of; 0 for none, negative when the place is out of its reach.</summary>
    internal int Move;

    /// <summary>Where the answers are kept phase by phase; 0 for nowhere.</summary>
    internal int Block;
}

/// <summary>
/// What the sensors have been asked about one probe, cell by cell, and what they answered. It holds facts, never estimates: a
/// search that finds an answer here finds what it would have computed. When a sensor turns where it stands, those of its answers that
/// the turn provably leaves are kept; when it moves otherwise all are void; the other sensors' stay known.
/// </summary>
/// <remarks>
/// The places of a cell are the distances of the search, then the seven that a refinement by halves can reach between one distance
/// and the next. Rows share nothing, so that threads may work on different rows at once.
/// </remarks>
internal sealed class ReportMemory
{
    /// <summary>The number of distances that a refinement by halves, three times over, can reach.</summary>
    internal const int RefinedPlaces = 7;

    private readonly Answers[] _answers;
    private readonly SensorNotes[] _notes;
    private readonly CauseNotes[] _causes;
    private readonly KeptCell[] _cells;
    private readonly Standing[] _standings;
    private readonly int[] _refinedFrom;
    private readonly double[] _fronts;
    private readonly (int Era, int Index)[] _holds;
    private readonly KeptAnswer[][] _kept;
    private readonly QuickAnswer[][] _quick;
    private readonly int[] _keptBlocks;
    private readonly SensorTurns[] _turns;
    private readonly int _phases;
    private readonly int _sensors;
    private readonly int _places;

    /// <summary>Makes an empty memory.</summary>
    /// <param name="rows">Number of rows.</param>
    /// <param name="cells">Number of cells in all rows.</param>
    /// <param name="distances">Number of distances of the search.</param>
    /// <param name="phases">Number of stride phases.</param>
    /// <param name="turns">The poses of the sensors.</param>
    internal ReportMemory(int rows, int cells, int distances, int phases, SensorTurns[] turns)
    {
        _sensors = turns.Length;
        _turns = turns;
        _phases = phases;
        _places = distances + RefinedPlaces;
        _answers = new Answers[(long)cells * _places * _sensors];
        _notes = new SensorNotes[cells * _sensors];
        _causes = new CauseNotes[cells];
        _cells = new KeptCell[cells];
        _standings = new Standing[cells * _sensors];
        _refinedFrom = new int[cells];
        _fronts = new double[cells];
        _holds = new (int, int)[cells];
        _kept = new KeptAnswer[rows][];
        _quick = new QuickAnswer[rows][];
        _keptBlocks = new int[rows];
        Array.Fill(_fronts, double.NaN);
    }

    /// <summary>Returns the poses of a sensor.</summary>
    internal SensorTurns Turns(int sensor) => _turns[sensor];

    /// <summary>Gets a number that changes whenever a new era of any sensor begins.</summary>
    internal int Era
    {
        get
        {
            int era = 0;
            foreach (SensorTurns turns in _turns)
            {
                era += turns.EraBegan;
            }

            return era;
        }
    }

    /// <summary>Returns what was found in a cell.</summary>
    internal ref KeptCell Kept(int cell) => ref _cells[cell];

    /// <summary>Returns how far the answers that a cell rests on stand, sensor by sensor.</summary>
    internal Span<Standing> Standings(int cell) => _standings.AsSpan(cell * _sensors, _sensors);

    /// <summary>Returns the answers of all sensors at one place of a cell.</summary>
    internal Span<Answers> At(int cell, int place) => _answers.AsSpan(((cell * _places) + place) * _sensors, _sensors);

    /// <summary>Returns what is noted of a sensor in a cell.</summary>
    internal ref SensorNotes Notes(int cell, int sensor) => ref _notes[(cell * _sensors) + sensor];

    /// <summary>Returns what is noted of the cause in a cell.</summary>
    internal ref CauseNotes Causes(int cell) => ref _causes[cell];

    /// <summary>Returns where the probe touches the body; NaN when it has not been looked up. [m]</summary>
    internal ref double FrontMetres(int cell) => ref _fronts[cell];

    /// <summary>Makes sure that the refined places of a cell are those after one of its distances.</summary>
    internal void RefineFrom(int cell, int distance, int? row)
    {
        if (_refinedFrom[cell] == distance + 1)
        {
            return;
        }

        _refinedFrom[cell] = distance + 1;
        foreach (ref Answers answers in _answers.AsSpan((((cell + 1) * _places) - RefinedPlaces) * _sensors, RefinedPlaces * _sensors))
        {
            answers = new Answers { Block = answers.Block };
            if (row is { } kept && answers.Block > 0)
            {
                // What has wandered once wanders on: those that come now will hardly outlive the next turn.
                foreach (ref KeptAnswer answer in Kept(kept, answers))
                {
                    answer.IsRestless = true;
                }
            }
        }
    }

    /// <summary>Returns the kept answers, phase by phase, of answers that have a block.</summary>
    internal Span<KeptAnswer> Kept(int row, in Answers answers) => _kept[row].AsSpan((answers.Block - 1) * _phases, _phases);

    /// <summary>Returns their quick parts.</summary>
    internal Span<QuickAnswer> Quick(int row, in Answers answers) => _quick[row].AsSpan((answers.Block - 1) * _phases, _phases);

    /// <summary>Keeps an answer.</summary>
    internal ref readonly QuickAnswer Keep(int row, ref Answers answers, int phase, in KeptAnswer answer, PreparedTransducer prepared)
    {
        if (answers.Block == 0)
        {
            answers.Block = ++_keptBlocks[row];
            int needed = answers.Block * _phases, has = _kept[row]?.Length ?? 0;
            if (has < needed)
            {
                Array.Resize(ref _kept[row], Math.Max(needed, has * 3 / 2));
                Array.Resize(ref _quick[row], _kept[row].Length);
            }
        }

        Kept(row, answers)[phase] = answer;
        ref QuickAnswer quick = ref Quick(row, answers)[phase];
        quick = answer.Quick(prepared);
        return ref quick;
    }

    /// <summary>Returns the nearest distance outside the dead zone; −1 when it has not been looked up in the sensors' present era.</summary>
    internal ref int HoldIndex(int cell)
    {
        ref (int Era, int Index) hold = ref _holds[cell];
        int era = Era;
        if (hold.Era != era)
        {
            hold = (era, -1);
        }

        return ref hold.Index;
    }

    /// <summary>Forgets everything about a cell.</summary>
    internal void Clear(int cell)
    {
        _answers.AsSpan(cell * _places * _sensors, _places * _sensors).Clear();
        _notes.AsSpan(cell * _sensors, _sensors).Clear();
        _causes[cell] = default;
        _refinedFrom[cell] = 0;
        _holds[cell] = default;
        _fronts[cell] = double.NaN;
    }
}
