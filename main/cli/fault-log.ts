import { writeFileSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { inspect } from 'node:util'
import { makeFolders } from '../adapters/files/make-folders.ts'

/**
 * Writes what a fault of Cardwright's own was, for whoever mends it.
 * @returns where it lies: in the workshop, else among the system's temporary files; null where
 *   neither takes it.
 */
export function writeFaultLog(thrown: unknown, workshop: string, argv: readonly string[]): string | null {
  const now = new Date().toISOString()
  const text = [
    `at ${now}`,
    `node ${process.version} on ${process.platform} ${process.arch}`,
    `arguments: ${JSON.stringify(argv.map(withoutPassword))}`,
    inspect(thrown, { depth: 6 }),
    '',
  ].join('\n')
  for (const folder of [join(workshop, 'logs'), tmpdir()]) {
    try {
      makeFolders(folder)
      const path = join(folder, `cardwright-fault-${now.replaceAll(':', '-')}.log`)
      writeFileSync(path, text)
      return path
    } catch {
      // The next folder may take it.
    }
  }
  return null
}

/** `ARCHIVE=password` keeps its name only: passwords are never stored. */
function withoutPassword(argument: string): string {
  return argument.replace(/^(.*?)=.*$/s, '$1=…')
}
