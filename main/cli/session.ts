import type { Command } from 'commander'
import { resolve } from 'node:path'
import type { CallName, RequestOf, ResponseOf } from '../../app/contract/calls.ts'
import { checkRequest } from '../../app/contract/check-request.ts'
import type { Core } from '../../app/contract/core.ts'
import type { LibraryFiles } from '../../app/ports/library-files.ts'
import type { RunControl } from '../../app/ports/progress.ts'
import type { Workshop } from '../workshop.ts'
import { surroundings, workshopFolder } from '../workshop-folder.ts'
import { columnsOf, fitted, terminalColumns } from './fit-columns.ts'
import { progressReport } from './progress-report.ts'
import type { Reply } from './reply.ts'

/** Asks the core; the request is checked against the contract first. */
export type Ask = <C extends CallName>(call: C, request: RequestOf<C>) => Promise<ResponseOf<C>>

/** What every command can use. */
export interface Session {
  /** The workshop as told by `--workshop`, the environment or the system. */
  workshopFolder(): string
  /** A path as the user wrote it, from the folder they stand in. */
  resolvePath(path: string): string
  /**
   * Runs a command that needs the workshop; opens and closes it.
   * @param beginScan begins the walk of a first scan while the workshop is opened
   */
  withCore(
    work: (ask: Ask, workshop: Workshop) => Promise<Reply>,
    beginScan?: () => Promise<LibraryFiles>,
  ): Promise<void>
  /** Runs a command that needs none. */
  withoutWorkshop(work: (control: RunControl) => Promise<Reply>): Promise<void>
  /** One line for people, on standard error. */
  say(line: string): void
}

/** Exit code of the last reply; 0 until one came. */
export interface SessionState {
  exitCode: number
}

/** The session of one run of the command line. `program` tells the options that all commands share. */
export function createSession(program: Command, state: SessionState, cancel: AbortSignal): Session {
  const around = surroundings()
  const options = () => program.opts<{ workshop?: string; json?: boolean }>()
  const folder = () => workshopFolder(options().workshop, around)
  const say = (line: string) => void process.stderr.write(`${fitted(line, columnsOf(process.stderr))}\n`)

  async function answer(work: (control: RunControl) => Promise<Reply>): Promise<void> {
    const progress = progressReport({
      isTerminal: process.stderr.isTTY === true,
      columns: terminalColumns(process.stderr),
      write: (text) => void process.stderr.write(text),
      now: () => performance.now(),
    })
    try {
      const { document, text, holds, unusable } = await work({ onProgress: progress.onProgress, cancel })
      progress.end()
      if (options().json === true) process.stdout.write(`${JSON.stringify(document, null, 2)}\n`)
      else if (text !== '') process.stdout.write(`${fitted(text, columnsOf(process.stdout))}\n`)
      state.exitCode = unusable === true ? 2 : holds ? 0 : 1
    } finally {
      progress.end()
    }
  }

  return {
    workshopFolder: folder,
    resolvePath: (path) => resolve(around.currentFolder, path),
    say,
    withoutWorkshop: answer,
    withCore: (work, beginScan) =>
      answer(async (control) => {
        const firstScan = await beginScan?.()
        try {
          // Loaded only where it is needed: a command that needs no workshop starts twice as fast.
          const { openWorkshop } = await import('../workshop.ts')
          const workshop = await openWorkshop({
            folder: folder(),
            ...(firstScan === undefined ? {} : { firstScan }),
          })
          try {
            return await work(askOf(workshop.core, control), workshop)
          } finally {
            await workshop.close()
          }
        } finally {
          await firstScan?.close()
        }
      }),
  }
}

function askOf(core: Core, control: RunControl): Ask {
  return (call, request) => core[call](checkRequest(call, request), control)
}
