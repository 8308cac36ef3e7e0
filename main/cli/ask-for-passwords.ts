import { createInterface, type Interface } from 'node:readline'
import { Writable } from 'node:stream'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { Cancelled } from '../../app/errors/app-error.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'

/** Code of the scan's problem where an archive is locked, or its password was wrong. */
const PASSWORD_CODES: ReadonlySet<string> = new Set(['archive/password-needed', 'archive/password-wrong'])

/**
 * Asks for the passwords of locked archives, on a terminal only and without showing them.
 * @returns archive to password; null where none was given.
 * @throws Cancelled on Ctrl+C; what was scanned before stays.
 */
export async function askForPasswords(
  report: ResponseOf<'scan'>,
  session: Session,
): Promise<Record<string, string> | null> {
  if (process.stdin.isTTY !== true || process.stderr.isTTY !== true) return null
  const locked = report.roots
    .flatMap((root) => root.problems)
    .filter((problem) => PASSWORD_CODES.has(problem.code))
    .map((problem) => problem.path)
  if (locked.length === 0) return null
  // Opened before the question is seen, so that nothing typed is shown.
  const nowhere = new Writable({ write: (_chunk, _encoding, done) => done() })
  const reader = createInterface({ input: process.stdin, output: nowhere, terminal: true })
  const given: Record<string, string> = {}
  try {
    for (const archive of new Set(locked)) {
      session.say(`Password of ${printable(archive)} (Enter skips it; it is not shown and not stored):`)
      const password = await nextLine(reader)
      if (password === null) break
      if (password !== '') given[archive] = password
    }
  } finally {
    reader.close()
  }
  return Object.keys(given).length > 0 ? given : null
}

/** What is typed until Enter; null where the input ends (Ctrl+D). */
function nextLine(reader: Interface): Promise<string | null> {
  return new Promise((resolve, reject) => {
    reader.once('line', resolve)
    reader.once('close', () => resolve(null))
    reader.once('SIGINT', () => reject(new Cancelled()))
  })
}
