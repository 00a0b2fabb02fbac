using SonarGeom.Geometry;
using SonarGeom.Obstacles;

namespace SonarGeom.Tests.Obstacles;

public sealed class MeshShapeTests
{
    private static readonly Vec3[] Corners = [new(0, 0, 0), new(1, 0, 0), new(0, 1, 0), new(0, 0, 1)];

    private static readonly Facet[] Outward = [new(0, 2, 1), new(0, 1, 3), new(1, 2, 3), new(2, 0, 3)];

    [Fact]
    public void PositionsThatComeTwiceBecomeOneAndTheSurfaceCloses()
    {
        // Each facet with corners of its own.
        var mesh = new TriangleMesh([.. Outward.SelectMany(f => new[] { Corners[f.A], Corners[f.B], Corners[f.C] })], [.. Enumerable.Range(0, 4).Select(i => new Facet(3 * i, (3 * i) + 1, (3 * i) + 2))]);
        MeshShape shape = MeshShape.Of("tent", [new MeshMaterial("", mesh)]);
        Assert.Equal(8, shape.Cleaning.MergedVertices);
        Assert.Equal(4, shape.Whole.Vertices.Length);
        Assert.True(shape.Cleaning.IsClosed);
        Assert.Equal("8 repeated vertices merged", shape.Cleaning.InWords);
    }

    [Fact]
    public void FacetsWithoutAreaAndRepeatedFacetsAreLeftOutWithTheirCount()
    {
        var mesh = new TriangleMesh([.. Corners, new(0.5, 0, 0)], [.. Outward, new(0, 1, 4), new(1, 1, 2), new(2, 1, 0)]);
        MeshShape shape = MeshShape.Of("tent", [new MeshMaterial("", mesh)]);
        Assert.Equal(4, shape.FacetCount);
        Assert.Equal(2, shape.Cleaning.FlatFacets);
        Assert.Equal(1, shape.Cleaning.RepeatedFacets);
        Assert.True(shape.Cleaning.IsClosed);
    }

    [Fact]
    public void BackToBackFacetsStayUnlessBothSidesAnswer()
    {
        var mesh = new TriangleMesh([.. Corners], [new(0, 1, 2), new(0, 2, 1)]);
        Assert.Equal(2, MeshShape.Of("sheet", [new MeshMaterial("", mesh)]).FacetCount);
        Assert.Equal(1, MeshShape.Of("sheet", [new MeshMaterial("", mesh, IsTwoSided: true)]).FacetCount);
    }

    [Fact]
    public void AClosedSurfaceThatLooksInwardIsTurned()
    {
        var mesh = new TriangleMesh([.. Corners], [.. Outward.Select(f => new Facet(f.A, f.C, f.B))]);
        MeshShape shape = MeshShape.Of("tent", [new MeshMaterial("", mesh)]);
        Assert.True(shape.Cleaning.WasInsideOut);
        Assert.Equal(Outward.Select(f => (Corners[f.B] - Corners[f.A]).Cross(Corners[f.C] - Corners[f.A])).ToHashSet(),
            shape.Whole.Facets.Select(f => (V(f.B) - V(f.A)).Cross(V(f.C) - V(f.A))).ToHashSet());
        Vec3 V(int i) => shape.Whole.Vertices[i];
    }

    [Fact]
    public void AnOpenSurfaceIsNotClosed() =>
        Assert.False(MeshShape.Of("tent", [new MeshMaterial("", new TriangleMesh([.. Corners], [.. Outward.Skip(1)]))]).Cleaning.IsClosed);

    [Fact]
    public void WhatCannotBeUsedIsRefused()
    {
        Refused("no facets", [], []);
        Refused("no facet with an area", [.. Corners], [new(0, 0, 1)]);
        Refused("must be finite", [Corners[0], Corners[1], new(0, double.NaN, 0)], [new(0, 1, 2)]);
        Refused("within 1000 m", [Corners[0], Corners[1], new(0, -1000.1, 0)], [new(0, 1, 2)]);
        Refused("counted from 0", [.. Corners], [new(0, 1, 4)]);
        Refused("counted from 0", [.. Corners], [new(0, 1, -1)]);
        static void Refused(string said, Vec3[] vertices, Facet[] facets) =>
            Assert.Contains(said, Assert.Throws<ArgumentException>(() => MeshShape.Of("mesh", [new MeshMaterial("", new TriangleMesh([.. vertices], [.. facets]))])).Message, StringComparison.Ordinal);
    }
}
