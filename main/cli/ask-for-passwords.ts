import { createInterface } from 'node:readline'
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
  const given: Record<string, string> = {}
  for (const archive of new Set(locked)) {
    session.say(`Password of ${printable(archive)} (Enter skips it; it is not shown and not stored):`)
    const password = await readHidden()
    if (password !== '') given[archive] = password
  }
  return Object.keys(given).length > 0 ? given : null
}

/** A line that is not shown; empty where the input ended (Ctrl+D). */
async function readHidden(): Promise<string> {
  const nowhere = new Writable({ write: (_chunk, _encoding, done) => done() })
  const reader = createInterface({ input: process.stdin, output: nowhere, terminal: true })
  try {
    return await new Promise((resolve, reject) => {
      reader.once('line', resolve)
      reader.once('close', () => resolve(''))
      reader.once('SIGINT', () => reject(new Cancelled()))
    })
  } finally {
    reader.close()
  }
}
