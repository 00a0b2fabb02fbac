namespace SonarGeom.Geometry.Rays;

/// <summary>Boxes around boxes around primitives, halved at the middle of the longest side.</summary>
internal sealed class SearchTree
{
    private const int LeafSize = 4;

    private readonly PrimitiveSet _primitives;
    private readonly int[] _order;
    private readonly List<Node> _nodes = [];

    public SearchTree(PrimitiveSet primitives)
    {
        _primitives = primitives;
        _order = new int[primitives.Count];
        Bounds[] bounds = new Bounds[primitives.Count];
        for (int i = 0; i < bounds.Length; i++)
        {
            _order[i] = i;
            bounds[i] = primitives.BoundsOf(i);
        }

        if (bounds.Length > 0)
        {
            _ = Divide(bounds, 0, bounds.Length);
        }
    }

    public (int Number, double Distance) Search(in Ray ray, bool stopAtAny)
    {
        int best = -1;
        double distance = ray.FarMetres;
        if (_nodes.Count == 0)
        {
            return (best, distance);
        }

        Stack<int> open = new();
        open.Push(0);
        while (open.TryPop(out int index))
        {
            Node node = _nodes[index];
            Ray rest = ray with { FarMetres = distance };
            if (!Meets(node.Bounds, rest))
            {
                continue;
            }

            if (node.Count == 0)
            {
                open.Push(node.Second);
                open.Push(index + 1);
                continue;
            }

            for (int i = node.First; i < node.First + node.Count; i++)
            {
                int number = _order[i];
                if (_primitives.Intersect(number, rest) is double found
                    && (best < 0 || found < distance || (found == distance && number < best)))
                {
                    (best, distance) = (number, found);
                    rest = ray with { FarMetres = distance };
                    if (stopAtAny)
                    {
                        return (best, distance);
                    }
                }
            }
        }

        return (best, distance);
    }

    private static bool Meets(Bounds box, in Ray ray)
    {
        double near = ray.NearMetres;
        double far = ray.FarMetres;
        return Clip(box.Low.X - ray.Origin.X, box.High.X - ray.Origin.X, ray.UnitDirection.X, ref near, ref far)
            && Clip(box.Low.Y - ray.Origin.Y, box.High.Y - ray.Origin.Y, ray.UnitDirection.Y, ref near, ref far)
            && Clip(box.Low.Z - ray.Origin.Z, box.High.Z - ray.Origin.Z, ray.UnitDirection.Z, ref near, ref far);
    }

    private static bool Clip(double low, double high, double direction, ref double near, ref double far)
    {
        const double Slack = 1e-12;
        double margin = Slack * (Math.Abs(low) + Math.Abs(high));
        low -= margin;
        high += margin;
        if (direction == 0)
        {
            return low <= 0 && high >= 0;
        }

        double first = low / direction;
        double second = high / direction;
        near = Math.Max(near, Math.Min(first, second));
        far = Math.Min(far, Math.Max(first, second));
        return near - (Slack * Math.Abs(near)) <= far + (Slack * Math.Abs(far));
    }

    private int Divide(Bounds[] bounds, int first, int end)
    {
        Bounds all = Bounds.Empty;
        Bounds centres = Bounds.Empty;
        for (int i = first; i < end; i++)
        {
            all = all.With(bounds[_order[i]]);
            centres = centres.With(bounds[_order[i]].Centre);
        }

        int index = _nodes.Count;
        _nodes.Add(new Node(all, first, end - first, 0));
        if (end - first <= LeafSize)
        {
            return index;
        }

        Vec3 size = centres.High - centres.Low;
        int axis = size.X >= size.Y && size.X >= size.Z ? 0 : size.Y >= size.Z ? 1 : 2;
        double Key(int number) => axis switch { 0 => bounds[number].Centre.X, 1 => bounds[number].Centre.Y, _ => bounds[number].Centre.Z };
        Array.Sort(_order, first, end - first, Comparer<int>.Create((p, q) => Key(p).CompareTo(Key(q)) is int c && c != 0 ? c : p.CompareTo(q)));
        int middle = (first + end) / 2;
        _ = Divide(bounds, first, middle);
        int second = Divide(bounds, middle, end);
        _nodes[index] = new Node(all, 0, 0, second);
        return index;
    }

    private readonly record struct Node(Bounds Bounds, int First, int Count, int Second);
}
