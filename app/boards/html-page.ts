/** A page on its own; `main` and `footer` are markup, the title is text. */
export interface HtmlPage {
  readonly title: string
  /** What this page looks like beyond what all pages do, as CSS. */
  readonly style: string
  readonly main: readonly string[]
  readonly footer: string
}

/**
 * A self-contained page: no script, no picture file, nothing fetched. Light or dark as its reader's
 * system is, dark on white where it is printed.
 */
export function htmlPage({ title, style, main, footer }: HtmlPage): string {
  return [
    '<!doctype html>',
    '<html lang="en">',
    '<head>',
    '<meta charset="utf-8">',
    '<meta name="viewport" content="width=device-width, initial-scale=1">',
    `<meta http-equiv="Content-Security-Policy" content="default-src 'none'; style-src 'unsafe-inline'">`,
    `<title>${htmlText(title)}</title>`,
    `<style>${STYLE}\n${style}</style>`,
    '</head>',
    '<body>',
    '<main>',
    `<h1>${htmlText(title)}</h1>`,
    ...main,
    '</main>',
    `<footer>${footer}</footer>`,
    '</body>',
    '</html>',
    '',
  ].join('\n')
}

/** A text as a page shows it: its markup is shown, not followed, and control characters become U+FFFD. */
export function htmlText(text: string): string {
  return text
    .replace(/[\u0000-\u001f\u007f-\u009f]/g, '\ufffd')
    .replace(/&/g, '&amp;')
    .replace(/</g, '&lt;')
    .replace(/>/g, '&gt;')
    .replace(/"/g, '&quot;')
    .replace(/'/g, '&#39;')
}

const STYLE = `
:root { color-scheme: light dark; --ink: #1c2024; --paper: #fff; --quiet: #4a525a; --line: #c9ced3; --bad: #8a2a17; }
@media screen and (prefers-color-scheme: dark) { :root { --ink: #e8e6df; --paper: #1a1a18; --quiet: #b5b2a7; --line: #4a4842; --bad: #f0a08c; } }
body { font: 15px/1.45 system-ui, sans-serif; color: var(--ink); background: var(--paper); max-width: 70rem; margin: 2rem auto; padding: 0 1rem; overflow-wrap: break-word; }
h1 { font-size: 1.5rem; } h2 { font-size: 1.15rem; margin-top: 2rem; break-after: avoid; }
table { border-collapse: collapse; width: 100%; }
th, td { text-align: left; vertical-align: top; padding: .35rem .5rem; border-bottom: 1px solid var(--line); }
thead th { font-weight: 600; border-bottom-width: 2px; } tbody th { font-weight: inherit; }
.path { overflow-wrap: anywhere; font-family: ui-monospace, monospace; font-size: .9em; }
footer { margin-top: 2rem; color: var(--quiet); font-size: .85rem; }
thead { display: table-header-group; } tr { break-inside: avoid; }
@page { margin: 15mm; } @media print { :root { color-scheme: light; } body { margin: 0; max-width: none; font-size: 10pt; } }
`.trim()
