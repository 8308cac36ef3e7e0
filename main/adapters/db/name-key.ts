/**
 * A name folded for comparing: upper and lower case alike, one form for composed letters. SQLite's own
 * folding knows ASCII only.
 */
export function nameKey(name: string): string {
  return name.normalize('NFC').toLowerCase()
}

const collator = new Intl.Collator('en', { numeric: true, sensitivity: 'base' })

/** Orders names as people read them: case aside, `Two 9` before `Two 10`; equal ones by code units. */
export function compareNames(a: string, b: string): number {
  return collator.compare(a, b) || (a < b ? -1 : a > b ? 1 : 0)
}
