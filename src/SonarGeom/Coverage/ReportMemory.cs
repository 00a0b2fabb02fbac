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
}

/// <summary>Margins of one sensor in one cell, each with the place that it is true of.</summary>
internal struct SensorNotes
{
    /// <summary>The place of <see cref="SumDecibels"/>, counted from 1; 0 for none.</summary>
    internal int SumPlace;

    /// <summary>Sum of the margins over the phases. [dB]</summary>
    internal double SumDecibels;

    /// <summary>The place of the bare margins, counted from 1; 0 for none.</summary>
    internal int BarePlace;

    /// <summary>Margin at the first heel strike if nothing came before the echo or stood in its way. [dB]</summary>
    internal double BareFirstDecibels;

    /// <summary>The same at the second heel strike. [dB]</summary>
    internal double BareSecondDecibels;
}

/// <summary>Why a cell is not warned of, with the place and the sensor that the cause was told from.</summary>
internal struct CauseNote
{
    /// <summary>The place, counted from 1; 0 for none.</summary>
    internal int Place;

    internal int Sensor;

    internal int Phase;

    internal LimitingCause Cause;
}

/// <summary>
/// What the sensors have been asked about one probe, cell by cell, and what they answered. It holds facts, never estimates: a
/// search that finds an answer here finds what it would have computed. A sensor that moves is forgotten, the others stay known.
/// </summary>
/// <remarks>
/// The places of a cell are the distances of the search, then the seven that a refinement by halves can reach between one distance
/// and the next. Cells share nothing, so that threads may work on different cells at once.
/// </remarks>
internal sealed class ReportMemory
{
    /// <summary>The number of distances that a refinement by halves, three times over, can reach.</summary>
    internal const int RefinedPlaces = 7;

    private readonly Answers[] _answers;
    private readonly SensorNotes[] _notes;
    private readonly CauseNote[] _causes;
    private readonly int[] _refinedFrom;
    private readonly double[] _fronts;
    private readonly int _sensors;
    private readonly int _places;

    internal ReportMemory(int cells, int sensors, int distances)
    {
        _sensors = sensors;
        _places = distances + RefinedPlaces;
        _answers = new Answers[(long)cells * _places * sensors];
        _notes = new SensorNotes[cells * sensors];
        _causes = new CauseNote[cells];
        _refinedFrom = new int[cells];
        _fronts = new double[cells];
        Array.Fill(_fronts, double.NaN);
    }

    /// <summary>Returns the answers of all sensors at one place of a cell.</summary>
    internal Span<Answers> At(int cell, int place) => _answers.AsSpan(((cell * _places) + place) * _sensors, _sensors);

    /// <summary>Returns what is noted of a sensor in a cell.</summary>
    internal ref SensorNotes Notes(int cell, int sensor) => ref _notes[(cell * _sensors) + sensor];

    /// <summary>Returns the cause noted in a cell.</summary>
    internal ref CauseNote Cause(int cell) => ref _causes[cell];

    /// <summary>Returns where the probe touches the body; NaN when it has not been looked up. [m]</summary>
    internal ref double FrontMetres(int cell) => ref _fronts[cell];

    /// <summary>Makes sure that the refined places of a cell are those after one of its distances.</summary>
    internal void RefineFrom(int cell, int distance)
    {
        if (_refinedFrom[cell] != distance + 1)
        {
            _refinedFrom[cell] = distance + 1;
            _answers.AsSpan((((cell + 1) * _places) - RefinedPlaces) * _sensors, RefinedPlaces * _sensors).Clear();
        }
    }

    /// <summary>Forgets everything about one sensor in a cell.</summary>
    internal void Forget(int cell, int sensor)
    {
        for (int place = 0; place < _places; place++)
        {
            At(cell, place)[sensor] = default;
        }

        Notes(cell, sensor) = default;
        if (_causes[cell].Sensor == sensor)
        {
            _causes[cell] = default;
        }
    }

    /// <summary>Forgets everything about a cell.</summary>
    internal void Clear(int cell)
    {
        _answers.AsSpan(cell * _places * _sensors, _places * _sensors).Clear();
        _notes.AsSpan(cell * _sensors, _sensors).Clear();
        _causes[cell] = default;
        _refinedFrom[cell] = 0;
        _fronts[cell] = double.NaN;
    }
}
