/** The part of a command's help that shows it in use. */
export function examples(...lines: readonly string[]): string {
  return `\n${lines.length === 1 ? 'Example' : 'Examples'}:\n${lines.map((line) => `  cardwright ${line}`).join('\n')}`
}
