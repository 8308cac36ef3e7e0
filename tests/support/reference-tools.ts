import { spawnSync } from 'node:child_process'
import { existsSync } from 'node:fs'
import { test } from 'vitest'

/** Set in CI, which installs every reference: "not run" is a failure there. */
export const referencesRequired = process.env['CARDWRIGHT_REQUIRE_REFERENCES'] === '1'

/** Whether a program is on the PATH. */
export function hasTool(name: string): boolean {
  return spawnSync('/bin/sh', ['-c', 'command -v "$1"', 'sh', name]).status === 0
}

/** Which of these references (programs by name, files by absolute path) this machine lacks. */
export function missingReferences(references: readonly string[]): readonly string[] {
  return references.filter(
    (reference) => !(reference.startsWith('/') ? existsSync(reference) : hasTool(reference)),
  )
}

/** A `test` that cannot be run on this machine, whatever is installed: reported as skipped, with why. */
export function notRunHere(why: string): typeof test.skip {
  return ((name: string) => test(name, (context) => context.skip(why))) as typeof test.skip
}

/**
 * A `test` that needs references: reported as skipped ("not run") where one is missing, and failing
 * instead where `CARDWRIGHT_REQUIRE_REFERENCES` is 1.
 */
export function testAgainst(...references: string[]): typeof test | typeof test.skip {
  const missing = missingReferences(references)
  if (missing.length > 0 && referencesRequired) {
    test(`the references ${missing.join(', ')} are installed`, () => {
      throw new Error(`install ${missing.join(', ')}: what they judge was not run`)
    })
  }
  return missing.length === 0 ? test : test.skip
}
