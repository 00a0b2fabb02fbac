using System.Runtime.InteropServices;
using System.Text;
using SonarGeom.Cli.Shell;

using var stop = new CancellationTokenSource();
using PosixSignalRegistration interrupt = PosixSignalRegistration.Create(PosixSignal.SIGINT, Stop);
using PosixSignalRegistration terminate = PosixSignalRegistration.Create(PosixSignal.SIGTERM, Stop);
var plain = new UTF8Encoding(encoderShouldEmitUTF8Identifier: false);
using var output = new StreamWriter(Console.OpenStandardOutput(), plain, 1 << 14);
using var error = new StreamWriter(Console.OpenStandardError(), plain) { AutoFlush = true };
return (int)Tool.Run(args, new Session(output, error, !Console.IsErrorRedirected, stop.Token));

void Stop(PosixSignalContext context)
{
    // The first signal lets the run end by itself; the second ends the process.
    context.Cancel = !stop.IsCancellationRequested;
    stop.Cancel();
}
