using SonarGeom.Echoes;

namespace SonarGeom.Coverage;

/// <summary>The poses that one sensor of a kept map has had, as long as each is the last one turned where it stands.</summary>
/// <remarks>Answers name the pose that they were asked in. When the sensor moves otherwise, or too many poses have been, a new era
/// begins and all answers of older eras are void.</remarks>
internal sealed class SensorTurns
{
    private const int MostPoses = 256;

    private readonly List<PosedSensor> _poses;
    private PoseTurn[] _turns = [];

    /// <summary>Begins with a sensor.</summary>
    internal SensorTurns(PosedSensor posed) => _poses = [posed];

    /// <summary>Gets how often the sensor has moved, counted from 1: equal numbers, equal poses.</summary>
    internal int Moves { get; private set; } = 1;

    /// <summary>Gets the number of the move that began this era.</summary>
    internal int EraBegan { get; private set; } = 1;

    /// <summary>Gets the number of the last move that moved the faces of the sensor.</summary>
    internal int FacesMoved { get; private set; } = 1;

    /// <summary>Gets the number of the pose within this era.</summary>
    internal byte Pose => (byte)(_poses.Count - 1);

    /// <summary>Returns the turn from a pose of this era to the present one.</summary>
    internal ref readonly PoseTurn From(byte pose, int phase) => ref _turns[(pose * _poses[0].Poses.Length) + phase];

    /// <summary>The sensor has moved.</summary>
    internal void Move(PosedSensor posed)
    {
        Moves++;
        if (_poses.Count == MostPoses || !IsTurn(_poses[^1], posed))
        {
            _poses.Clear();
            EraBegan = Moves;
            FacesMoved = Moves;
        }

        _poses.Add(posed);
        int phases = posed.Poses.Length;
        _turns = new PoseTurn[_poses.Count * phases];
        for (int i = 0; i < _turns.Length && EraBegan < Moves; i++)
        {
            _turns[i] = PoseTurn.Between(_poses[i / phases].Poses[i % phases], posed.Poses[i % phases]);
        }

        if (EraBegan < Moves && _turns.AsSpan(_turns.Length - (2 * phases), phases).ToArray().Any(t => t.MoveMetres > 0))
        {
            FacesMoved = Moves;
        }
    }

    private static bool IsTurn(PosedSensor before, PosedSensor now)
    {
        for (int phase = 0; phase < now.Poses.Length; phase++)
        {
            if (!PoseTurn.IsTurn(before.Poses[phase], now.Poses[phase]))
            {
                return false;
            }
        }

        return true;
    }
}
