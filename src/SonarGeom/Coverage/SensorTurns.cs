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
    private (double Any, double Still)[] _away = [];

    /// <summary>Begins with a sensor.</summary>
    /// <param name="posed">The sensor.</param>
    /// <param name="isFollowed">Whether answers may outlive its turns; else every move of it makes all of them void.</param>
    internal SensorTurns(PosedSensor posed, bool isFollowed) => (_poses, IsFollowed) = ([posed], isFollowed);

    /// <summary>Gets whether answers may outlive turns.</summary>
    internal bool IsFollowed { get; }

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

    /// <summary>Returns the last turn of all.</summary>
    internal ref readonly PoseTurn Last(int phase) => ref _turns[_turns.Length - (2 * _poses[0].Poses.Length) + phase];

    /// <summary>Returns how far from a pose of this era the sensor is turned, the largest over the stride, and the same for as long as no
    /// turn moves the faces; infinite if one does. [rad]</summary>
    internal (double Any, double Still) AwayRadians(byte pose) => _away.Length == 0 ? default : _away[pose];

    /// <summary>Gets the least range at which the sensor now reports the floor or a limb; infinite for none. [m]</summary>
    internal double NearestMaskMetres { get; private set; }

    /// <summary>The sensor has moved.</summary>
    internal void Move(PosedSensor posed)
    {
        Moves++;
        if (!IsFollowed || _poses.Count == MostPoses || !IsTurn(_poses[^1], posed))
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

        NearestMaskMetres = Math.Min(posed.FloorRangeMetres.Min(), posed.LimbRangeMetres.Min());
        _away = new (double, double)[_poses.Count];
        for (int i = 0; i < _turns.Length; i++)
        {
            ref (double Any, double Still) away = ref _away[i / phases];
            away = (Math.Max(away.Any, _turns[i].StepRadians), Math.Max(away.Still, _turns[i].StillRadians));
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
