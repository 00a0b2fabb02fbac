namespace SonarGeom.Cli.Reports;

/// <summary>How pages look: system fonts, dark ink on white, one quiet accent, nothing told by colour alone, fit to print.</summary>
internal static class PageStyle
{
    internal const string Sheet =
        """
        :root { color-scheme: light; --ink: #1a1a1a; --soft: #4a4a4a; --line: #c9c6bf; --pale: #f5f3ee; --deep: #0b4f5c; --bad: #8f1d00; --good: #1c5e3c; }
        * { box-sizing: border-box; }
        html { font: 100%/1.55 system-ui, sans-serif; color: var(--ink); background: #fff; }
        body { margin: 0; }
        header, nav, main, footer { max-width: 72rem; margin: 0 auto; padding: 0 1.25rem; }
        header { padding-top: 2rem; }
        h1 { font-size: 1.9rem; line-height: 1.2; margin: 0 0 .5rem; text-wrap: balance; }
        h2 { font-size: 1.4rem; line-height: 1.25; margin: 3rem 0 .75rem; padding-top: .75rem; border-top: 3px solid var(--deep); }
        h3 { font-size: 1.1rem; margin: 2rem 0 .5rem; }
        p, li, dd, figcaption { max-width: 46rem; overflow-wrap: anywhere; }
        .about { color: var(--soft); margin: 0; }
        a { color: #0a4a8a; }
        a:focus-visible, .scroll:focus-visible { outline: 3px solid #0a4a8a; outline-offset: 2px; }
        .skip { position: absolute; left: -100rem; background: #fff; padding: .5rem 1rem; }
        .skip:focus { left: .5rem; top: .5rem; z-index: 1; }
        nav { margin-top: 1.25rem; }
        nav ul { list-style: none; margin: 0; padding: .75rem 1rem; background: var(--pale); columns: 15rem; }
        nav li { padding: .15rem 0; break-inside: avoid; }
        main:focus { outline: none; }
        .call { padding: .75rem 1rem; border-left: 6px solid; background: var(--pale); max-width: 54rem; font-size: 1.1rem; }
        .bad { border-color: var(--bad); } .bad strong { color: var(--bad); }
        .good { border-color: var(--good); } .good strong { color: var(--good); }
        .scroll { overflow-x: auto; margin: 1rem 0; background: linear-gradient(to left, #fff 40%, transparent) right / 3rem 100% no-repeat local, linear-gradient(to left, #8a867c, transparent) right / .9rem 100% no-repeat scroll; }
        table { border-collapse: collapse; font-size: .92rem; }
        caption { text-align: left; font-weight: 600; padding: .25rem 0 .5rem; }
        th, td { text-align: left; vertical-align: top; padding: .35rem .7rem; border-bottom: 1px solid var(--line); }
        thead th { border-bottom: 2px solid var(--ink); vertical-align: bottom; }
        tbody th { font-weight: 600; }
        .w1 { min-width: 7rem; } .w2 { min-width: 11rem; } .w3 { min-width: 18rem; max-width: 26rem; }
        .n { text-align: right; font-variant-numeric: tabular-nums; white-space: nowrap; }
        thead .n { white-space: normal; }
        figure { margin: 1rem 0 1.5rem; }
        img { display: block; max-width: 100%; height: auto; border: 1px solid var(--line); }
        figcaption { margin-top: .5rem; font-size: .95rem; }
        dt { font-weight: 600; margin-top: .6rem; } dd { margin: 0 0 0 1.25rem; }
        .sign p { border-top: 1px solid var(--ink); margin: 3.5rem 0 0; padding-top: .25rem; max-width: 40rem; }
        footer { margin-top: 3rem; padding-top: 1rem; padding-bottom: 2rem; border-top: 1px solid var(--line); color: var(--soft); }
        @media print { nav, .skip { display: none; } .scroll { overflow: visible; } table { font-size: .72rem; } figure, tr { break-inside: avoid; } h2, h3 { break-after: avoid; } }

        """;
}
