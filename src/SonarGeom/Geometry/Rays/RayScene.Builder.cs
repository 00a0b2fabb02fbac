using System.Runtime.InteropServices;
using System.Runtime.Intrinsics;

namespace SonarGeom.Geometry.Rays;

public sealed partial class RayScene
{
    /// <summary>
    /// Collects the surfaces of a scene. Primitives are numbered within their object from 0, in the order in which they are
    /// added; a second mesh of the same object goes on counting.
    /// </summary>
    public sealed class Builder
    {
        private readonly List<PrimitiveSet.Run> _runs = [];
        private readonly List<RoundShape> _rounds = [];
        private readonly List<BoxShape> _boxes = [];
        private readonly Dictionary<int, int> _counts = [];

        /// <summary>Gets the number of primitives added.</summary>
        public int Count => _runs.Count == 0 ? 0 : _runs[^1].End;

        /// <summary>Adds the triangles of a mesh. Both sides count; triangles without area are never hit.</summary>
        /// <param name="mesh">The mesh, in the frame of the scene.</param>
        /// <param name="objectId">The caller's number for the object.</param>
        /// <exception cref="ArgumentException">A vertex is not finite, or a facet names a vertex that does not exist.</exception>
        public Builder AddMesh(TriangleMesh mesh, int objectId)
        {
            ArgumentNullException.ThrowIfNull(mesh);
            ReadOnlySpan<Vec3> vertices = mesh.Vertices.AsSpan();
            if (!AreFinite(vertices))
            {
                foreach (Vec3 vertex in vertices)
                {
                    CheckFinite(vertex, nameof(mesh));
                }
            }

            ReadOnlySpan<Facet> facets = mesh.Facets.AsSpan();
            if (!AreBelow(facets, (uint)vertices.Length))
            {
                throw new ArgumentException(FaultOf(facets, vertices.Length), nameof(mesh));
            }

            AddRun(PrimitiveKind.Triangle, mesh.Facets.Length, objectId, 0, mesh);
            return this;
        }

        /// <summary>Adds a sphere.</summary>
        /// <param name="centre">Centre. [m]</param>
        /// <param name="radiusMetres">Radius, greater than 0. [m]</param>
        /// <param name="objectId">The caller's number for the object.</param>
        /// <exception cref="ArgumentException">A value is not finite or the radius is not positive.</exception>
        public Builder AddSphere(Vec3 centre, double radiusMetres, int objectId) =>
            AddRound(centre, centre, radiusMetres, true, objectId);

        /// <summary>Adds a capsule: every point within the radius of a line between two points.</summary>
        /// <param name="end1">Centre of the first dome. [m]</param>
        /// <param name="end2">Centre of the second dome; may equal the first. [m]</param>
        /// <param name="radiusMetres">Radius, greater than 0. [m]</param>
        /// <param name="objectId">The caller's number for the object.</param>
        /// <exception cref="ArgumentException">A value is not finite or the radius is not positive.</exception>
        public Builder AddCapsule(Vec3 end1, Vec3 end2, double radiusMetres, int objectId) =>
            AddRound(end1, end2, radiusMetres, true, objectId);

        /// <summary>Adds a cylinder closed by flat discs.</summary>
        /// <param name="end1">Centre of the first disc. [m]</param>
        /// <param name="end2">Centre of the second disc, not equal to the first. [m]</param>
        /// <param name="radiusMetres">Radius, greater than 0. [m]</param>
        /// <param name="objectId">The caller's number for the object.</param>
        /// <exception cref="ArgumentException">A value is not finite, the radius is not positive or the ends coincide.</exception>
        public Builder AddCylinder(Vec3 end1, Vec3 end2, double radiusMetres, int objectId)
        {
            if (!((end2 - end1).Length > 0))
            {
                throw new ArgumentException("The ends of a cylinder must differ.", nameof(end2));
            }

            return AddRound(end1, end2, radiusMetres, false, objectId);
        }

        /// <summary>Adds a box.</summary>
        /// <param name="worldFromBox">Where its centre and its own axes lie in the scene.</param>
        /// <param name="halfSizesMetres">Half its edge lengths along its own axes, each greater than 0. [m]</param>
        /// <param name="objectId">The caller's number for the object.</param>
        /// <exception cref="ArgumentException">A value is not finite or a size is not positive.</exception>
        public Builder AddBox(RigidTransform worldFromBox, Vec3 halfSizesMetres, int objectId)
        {
            CheckFinite(worldFromBox.Translation, nameof(worldFromBox));
            CheckFinite(worldFromBox.Rotation.AxisX, nameof(worldFromBox));
            CheckFinite(worldFromBox.Rotation.AxisY, nameof(worldFromBox));
            CheckFinite(worldFromBox.Rotation.AxisZ, nameof(worldFromBox));
            CheckFinite(halfSizesMetres, nameof(halfSizesMetres));
            if (!(halfSizesMetres.X > 0 && halfSizesMetres.Y > 0 && halfSizesMetres.Z > 0))
            {
                throw new ArgumentException($"A box has half sizes {halfSizesMetres}; each must be above 0.", nameof(halfSizesMetres));
            }

            AddRun(PrimitiveKind.Box, 1, objectId, _boxes.Count, null);
            _boxes.Add(new BoxShape(worldFromBox, halfSizesMetres));
            return this;
        }

        /// <summary>Returns the scene of everything added so far. It does not depend on the number of threads.</summary>
        /// <param name="threads">The number of threads to use; 0 for one per processor.</param>
        public RayScene Build(int threads = 0)
        {
            ArgumentOutOfRangeException.ThrowIfNegative(threads);
            return new(new PrimitiveSet([.. _runs], [.. _rounds], [.. _boxes]), threads);
        }

        // A number less itself is 0 if it is finite, and no number otherwise.
        private static bool AreFinite(ReadOnlySpan<Vec3> positions)
        {
            ReadOnlySpan<double> numbers = MemoryMarshal.Cast<Vec3, double>(positions);
            Vector512<double> sum = Vector512<double>.Zero;
            int i = 0;
            for (; i <= numbers.Length - Vector512<double>.Count; i += Vector512<double>.Count)
            {
                Vector512<double> some = Vector512.LoadUnsafe(in numbers[i]);
                sum += some - some;
            }

            double rest = Vector512.Sum(sum);
            for (; i < numbers.Length; i++)
            {
                rest += numbers[i] - numbers[i];
            }

            return rest == 0;
        }

        private static bool AreBelow(ReadOnlySpan<Facet> facets, uint limit)
        {
            ReadOnlySpan<uint> corners = MemoryMarshal.Cast<Facet, uint>(facets);
            Vector512<uint> greatest = Vector512<uint>.Zero;
            int i = 0;
            for (; i <= corners.Length - Vector512<uint>.Count; i += Vector512<uint>.Count)
            {
                greatest = Vector512.Max(greatest, Vector512.LoadUnsafe(in corners[i]));
            }

            bool areBelow = Vector512.LessThanAll(greatest, Vector512.Create(limit)) || i == 0;
            for (; i < corners.Length; i++)
            {
                areBelow &= corners[i] < limit;
            }

            return areBelow;
        }

        private static string FaultOf(ReadOnlySpan<Facet> facets, int vertexCount)
        {
            int i = 0;
            while (Math.Max((uint)facets[i].A, Math.Max((uint)facets[i].B, (uint)facets[i].C)) < (uint)vertexCount)
            {
                i++;
            }

            return $"Facet {i} names vertices {facets[i].A}, {facets[i].B}, {facets[i].C}; the mesh has {vertexCount}.";
        }

        private static void CheckFinite(Vec3 value, string name)
        {
            if (!value.IsFinite)
            {
                throw new ArgumentException($"{value} must be finite.", name);
            }
        }

        private Builder AddRound(Vec3 end1, Vec3 end2, double radiusMetres, bool hasDomes, int objectId)
        {
            CheckFinite(end1, nameof(end1));
            CheckFinite(end2, nameof(end2));
            if (!(radiusMetres > 0 && double.IsFinite(radiusMetres)))
            {
                throw new ArgumentException($"The radius is {radiusMetres} m; it must be above 0.", nameof(radiusMetres));
            }

            AddRun(PrimitiveKind.Round, 1, objectId, _rounds.Count, null);
            _rounds.Add(new RoundShape(end1, end2, radiusMetres, hasDomes));
            return this;
        }

        private void AddRun(PrimitiveKind kind, int count, int objectId, int firstShape, TriangleMesh? mesh)
        {
            if (count == 0)
            {
                return;
            }

            int start = Count;
            _ = checked(start + count);
            int firstPrimitiveId = _counts.GetValueOrDefault(objectId);
            _counts[objectId] = firstPrimitiveId + count;
            _runs.Add(new(kind, start, start + count, objectId, firstPrimitiveId, firstShape, mesh));
        }
    }
}
