using BenchmarkDotNet.Running;
using SonarGeom.Benchmarks.Tasks;

if (args is ["tasks", ..])
{
    return TaskRunner.Run(args.AsSpan(1), Console.Out, Console.Error);
}

if (args is ["growth", ..])
{
    return GrowthRunner.Run(args.AsSpan(1), Console.Out, Console.Error);
}

BenchmarkSwitcher.FromAssembly(typeof(TaskRunner).Assembly).Run(args);
return 0;
