using SonarGeom.Studies;
using SonarGeom.Tests.Bodies;
using SonarGeom.Walks;

namespace SonarGeom.Tests.Studies;

public class StrideStudyTests
{
    [Theory]
    [InlineData(0.5)]
    [InlineData(0.8)]
    [InlineData(1.8)]
    public void A_stride_closes_on_itself_with_both_soles_on_or_above_the_ground(double speed)
    {
        var gait = Gait.Of(Wearers.MedianMan, speed);
        var stride = StrideStudy.Of(gait, 40);
        Assert.Equal(gait.StrideMetres, stride.StrideMetres, 1e-12);
        Assert.Equal(60 * gait.CadenceStepsPerSecond, stride.StepsPerMinute, 1e-9);
        Assert.All(stride.Moments, m => Assert.True(m.LeftSoleMetres > -1e-9 && m.RightSoleMetres > -1e-9));
        Assert.Equal(0, stride.Moments.Average(m => m.HeadRiseMetres), 1e-9);

        // Half a stride on is the mirror image: head and pelvis on the other side at the same height.
        for (int i = 0; i < 20; i++)
        {
            Assert.Equal(stride.Moments[i].HeadLeftMetres, -stride.Moments[i + 20].HeadLeftMetres, 1e-9);
            Assert.Equal(stride.Moments[i].PelvisRiseMetres, stride.Moments[i + 20].PelvisRiseMetres, 1e-9);
            Assert.Equal(stride.Moments[i].LeftSoleMetres, stride.Moments[i + 20].RightSoleMetres, 1e-9);
        }
    }
}
