using SonarGeom.Files.Output;
using SonarGeom.Transducers;

namespace SonarGeom.Files.Tests.Output;

public sealed class TransducerDocumentTests : IDisposable
{
    private readonly ScratchFolder _folder = new();

    public void Dispose() => _folder.Dispose();

    [Theory]
    [InlineData("heron-strong-40")]
    [InlineData("curlew-far-25")]
    [InlineData("plover-pair-40")]
    public void IsReadBackAsItWas(string name)
    {
        Transducer transducer = InputFiles.ReadTransducer(name).Transducer;
        Transducer back = InputFiles.ReadTransducer(_folder.Write("written.json", TransducerDocument.Of(transducer))).Transducer;
        Assert.Equal(transducer with { Transmit = back.Transmit, Receive = back.Receive }, back);
        Assert.Equal(((CircularPiston)transducer.Transmit).RadiusMetres, ((CircularPiston)back.Transmit).RadiusMetres, 1e-9);
    }

    [Fact]
    public void OtherBeamsAreRefused() =>
        Assert.Throws<ArgumentException>(() => TransducerDocument.Of(InputFiles.ReadTransducer("linnet-wide-40").Transducer));
}
