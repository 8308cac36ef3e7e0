import type { Command } from 'commander'
import { AppError } from '../../app/errors/app-error.ts'
import type { ResponseOf } from '../../app/contract/calls.ts'
import type { LibraryFiles } from '../../app/ports/library-files.ts'
import { askForPasswords } from './ask-for-passwords.ts'
import { examples } from './examples.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import { counted, table } from './table.ts'

type ScanReport = ResponseOf<'scan'>

/** `scan`: indexes folders and archives. Holds where each has sounds and all of them could be read. */
export function registerScan(program: Command, session: Session): void {
  program
    .command('scan')
    .description('index folders and zip archives of sound fonts; reads each file once')
    .argument('<path...>', 'folders or archives')
    .option(
      '--password <archive=password>',
      'password of an archive, for this scan only; may be repeated',
      (value: string, earlier: string[]) => [...earlier, value],
      [] as string[],
    )
    .addHelpText('after', examples('scan ~/fonts', 'scan bought.zip --password bought.zip=secret'))
    .action((paths: string[], options: { password: string[] }) =>
      session.withCore(
        async (ask) => {
          const request = {
            paths: paths.map((path) => session.resolvePath(path)),
            passwords: passwordsOf(options.password, session),
          }
          const first = await ask('scan', request)
          const more = await askForPasswords(first, session)
          const report =
            more === null
              ? first
              : await ask('scan', { ...request, passwords: { ...request.passwords, ...more } })
          return { document: report, text: scanText(report), holds: scanHolds(report) }
        },
        () => begun(session.resolvePath(paths[0] ?? '')),
      ),
    )
}

async function begun(path: string): Promise<LibraryFiles> {
  const { walkAhead } = await import('../workers/worker-library-files.ts')
  return walkAhead(path)
}

function passwordsOf(told: readonly string[], session: Session): Record<string, string> {
  return Object.fromEntries(
    told.map((each) => {
      const at = each.indexOf('=')
      if (at < 1) {
        throw new AppError({
          code: 'usage',
          what: '--password wants the archive and its password.',
          where: '',
          mend: 'Write it as ARCHIVE=PASSWORD.',
        })
      }
      return [session.resolvePath(each.slice(0, at)), each.slice(at + 1)]
    }),
  )
}

/** Something was found everywhere, and everything could be read. */
function scanHolds(report: ScanReport): boolean {
  return report.roots.every(
    (root) => root.editions > 0 && root.problems.every((problem) => problem.severity !== 'fault'),
  )
}

function scanText(report: ScanReport): string {
  const lines = [
    table(
      ['folder or archive', 'fonts', 'sounds', 'new', 'changed', 'same', 'moved', 'gone'],
      report.roots.map((root) => [
        root.path,
        root.editions,
        root.sounds,
        root.added,
        root.changed,
        root.unchanged,
        root.relinked,
        root.gone,
      ]),
    ),
  ]
  for (const root of report.roots) {
    if (root.editions === 0) {
      lines.push(
        '',
        printable(`${root.path}: no sounds were found; a font is a folder with WAV files in it.`),
      )
    }
    for (const problem of root.problems) {
      lines.push(printable(`${problem.severity}: ${problem.path}: ${problem.message}`))
    }
  }
  const read = report.roots.reduce((sum, root) => sum + root.filesRead, 0)
  lines.push('', `${counted(read, 'file')} read in ${report.seconds.toFixed(1)} s.`)
  return lines.join('\n')
}
