using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

/// <summary>Boxes that become a branch of the binary tree and everything below it.</summary>
/// <param name="First">The first box.</param>
/// <param name="Count">The number of boxes.</param>
/// <param name="Box">The box around them.</param>
/// <param name="Depth">The number of cuts above.</param>
/// <param name="InFirstList">Which of the two lists holds them.</param>
/// <param name="Index">The branch.</param>
internal readonly record struct TreePart(int First, int Count, Vector256<float> Box, int Depth, bool InFirstList, int Index);

/// <summary>Parts that wait for a thread, and branches whose costs have to wait for other threads.</summary>
internal sealed class SharedParts
{
    private readonly Lock _gate = new();
    private readonly Stack<TreePart> _waiting = new();
    private readonly List<(int Depth, int Index)> _postponed = [];
    private int _idle;
    private int _unfinished;

    /// <summary>Gets whether a thread has nothing to do; a glance that may be out of date.</summary>
    public bool IsAnyoneIdle => Volatile.Read(ref _idle) > 0;

    /// <summary>Hands out the first parts, the largest first.</summary>
    public void HandOut(List<TreePart> parts)
    {
        parts.Sort((p, q) => p.Count.CompareTo(q.Count));
        parts.ForEach(_waiting.Push);
        _unfinished = parts.Count;
    }

    /// <summary>Hands out a part if a thread waits for it.</summary>
    public bool TryHandOut(TreePart part)
    {
        lock (_gate)
        {
            if (_idle <= _waiting.Count)
            {
                return false;
            }

            _waiting.Push(part);
            _unfinished++;
            return true;
        }
    }

    /// <summary>Waits for a part; null when the tree has grown up.</summary>
    public TreePart? Next()
    {
        bool isIdle = false;
        SpinWait spin = default;
        while (true)
        {
            lock (_gate)
            {
                bool isFound = _waiting.TryPop(out TreePart part);
                bool isWanted = !isFound && _unfinished > 0;
                Volatile.Write(ref _idle, _idle + (isWanted ? 1 : 0) - (isIdle ? 1 : 0));
                isIdle = isWanted;
                if (!isWanted)
                {
                    return isFound ? part : null;
                }
            }

            spin.SpinOnce(sleep1Threshold: -1);
        }
    }

    /// <summary>Tells that a part is grown, but for what others have taken from it.</summary>
    public void Finish()
    {
        lock (_gate)
        {
            _unfinished--;
        }
    }

    /// <summary>Notes a branch whose costs depend on what another thread does.</summary>
    public void Postpone(int depth, int index)
    {
        lock (_gate)
        {
            _postponed.Add((depth, index));
        }
    }

    /// <summary>Returns branches after those that hang below them.</summary>
    public IEnumerable<int> Postponed() => _postponed.OrderByDescending(branch => branch.Depth).Select(branch => branch.Index);
}
