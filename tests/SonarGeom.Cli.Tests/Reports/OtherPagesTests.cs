using SonarGeom.Cli.Commands;
using SonarGeom.Cli.Reports;
using SonarGeom.Files;
using SonarGeom.Files.Bodies;
using SonarGeom.Studies;

namespace SonarGeom.Cli.Tests.Reports;

public sealed class OtherPagesTests
{
    [Fact]
    public void ComparisonTellsEveryLayoutBandAndHazard()
    {
        Scenario scenario = QuickStudy.Coarse();
        LayoutComparison comparison = LayoutComparison.Run(
            scenario, [scenario.Layout, InputFiles.ReadLayout("brow-only")], Inputs.Resources(BodyTableFiles.Shipped));
        IReadOnlyList<ReportFile> files = ComparisonReport.Of(comparison, ScenarioStudy.Pose(scenario, scenario.MainWearer, BodyTableFiles.Shipped), QuickStudy.Hash);
        string page = QuickStudy.TextOf(files, "compare.html");
        PageChecks.IsCompleteWithoutSight(page);
        PageChecks.IsSelfContained(page);
        (string[] headings, string[][] rows) = QuickStudy.TableOf(page, "Verdict, warning time and time needed for each obstacle");
        Assert.Equal(["Obstacle", "Height bands", .. comparison.Layouts.Select(l => l.Layout.Name)], headings);
        Assert.Equal(scenario.Obstacles.Obstacles.Select(o => o.Id), rows.Select(r => r[0]));
        Assert.Equal(comparison.Differences.Length, files.Count(f => f.Name.StartsWith("difference-", StringComparison.Ordinal) && f.Name.EndsWith(".png", StringComparison.Ordinal)));
    }

    [Fact]
    public void HeadReviewCanBeSigned()
    {
        HeadReview review = HeadReview.Run(QuickStudy.Coarse(), Inputs.Resources(BodyTableFiles.Shipped));
        string page = QuickStudy.TextOf(HeadReviewPage.Of(review, QuickStudy.Hash), "head-review.html");
        PageChecks.IsCompleteWithoutSight(page);
        PageChecks.IsSelfContained(page);
        Assert.Equal(3, page.Split("name, signature, date").Length - 1);
        string text = QuickStudy.Plain(page);
        Assert.All(review.Findings, f => Assert.Contains(f.Sentence, text, StringComparison.Ordinal));
        Assert.All(review.Cases, c => Assert.Contains(c.Role, text, StringComparison.Ordinal));
    }
}
