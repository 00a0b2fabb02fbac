using System.Collections.Immutable;
using SonarGeom.Echoes.Facets;
using SonarGeom.Files.Documents;
using SonarGeom.Files.Shapes;
using SonarGeom.Obstacles;

namespace SonarGeom.Files.Kinds;

/// <summary>What computes the echoes that verdicts rest on: for all obstacles, and for single ones.</summary>
internal static class EngineShapes
{
    private const string Engine = "engine", EngineOf = "engine_of", ObstacleName = "obstacle";

    private static readonly ChoiceShape<EngineRequest> Word = new(
        [("automatic", EngineRequest.Suitable), ("closed_forms", EngineRequest.ClosedForm), ("surface_integral", EngineRequest.SurfaceIntegral)]);

    private static readonly ObjectShape<(string Obstacle, EngineRequest Engine)> One = new("engine_of", "What computes the echoes of one obstacle.", m =>
    {
        Member<string> obstacle = m.Required(ObstacleName, ObstacleShapes.Id, "The id of the obstacle.");
        Member<EngineRequest> engine = m.Required(Engine, Word, "What computes its echoes.");
        return v => (obstacle.From(v), engine.From(v));
    });

    /// <summary>The choice of a scenario.</summary>
    internal static readonly ObjectShape<EngineRequests> Verdicts = new("verdicts", "How verdicts on obstacles are reached.", m =>
    {
        Member<EngineRequest> usual = m.Optional(
            Engine,
            Word,
            EngineRequest.Suitable,
            "What computes the echoes: closed forms where there is one and the surface integral for meshes, closed forms only, or the surface integral wherever a part has a surface, which takes minutes.");
        Member<ImmutableArray<(string Obstacle, EngineRequest Engine)>> single = m.Optional(
            EngineOf, new ListShape<(string, EngineRequest)>(One, 0, 10_000), [], null, "What computes the echoes of single obstacles, in place of that.");
        return v =>
        {
            var of = ImmutableSortedDictionary.CreateBuilder<string, EngineRequest>(StringComparer.Ordinal);
            ImmutableArray<(string Obstacle, EngineRequest Engine)> all = single.From(v);
            for (int i = 0; i < all.Length; i++)
            {
                if (!of.TryAdd(all[i].Obstacle, all[i].Engine))
                {
                    v.Reading.Fault(v.PlaceOf(single).Items[i], $"{ObstacleName} is {all[i].Obstacle}, as in an entry before it; each obstacle may be named once.");
                }
            }

            return new EngineRequests(usual.From(v)) { Of = of.ToImmutable() };
        };
    });

    /// <summary>Tells what the choice does not fit: an obstacle that is not there, or closed forms of a mesh.</summary>
    /// <param name="v">The scenario.</param>
    /// <param name="verdicts">The choice.</param>
    /// <param name="obstacles">The obstacles.</param>
    internal static void Check(MemberValues v, Member<EngineRequests> verdicts, ImmutableArray<Obstacle> obstacles)
    {
        if (obstacles.IsDefaultOrEmpty)
        {
            return;
        }

        EngineRequests asked = verdicts.From(v);
        PlacedValue place = v.PlaceOf(verdicts);
        foreach (string id in asked.Of.Keys.Where(id => obstacles.All(o => o.Id != id)))
        {
            v.Reading.Fault(PlaceIn(place, id), $"{ObstacleName} is {id}, but no obstacle of the scenario has that id.");
        }

        foreach (Obstacle mesh in obstacles.Where(o => o.Kind == ObstacleKind.Mesh && asked.For(o.Id) == EngineRequest.ClosedForm))
        {
            v.Reading.Fault(
                asked.Of.ContainsKey(mesh.Id) ? PlaceIn(place, mesh.Id) : place.Member(Engine) ?? place,
                $"{Engine} is closed_forms, but {mesh.Id} is a mesh, which has none; it must be automatic or surface_integral.");
        }
    }

    private static PlacedValue PlaceIn(PlacedValue verdicts, string id) =>
        verdicts.Member(EngineOf)?.Items.FirstOrDefault(i => i.Member(ObstacleName)?.Text == id) ?? verdicts;
}
