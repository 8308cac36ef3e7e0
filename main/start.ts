import { existsSync } from 'node:fs'
import { join } from 'node:path'
import { parseArgs } from 'node:util'
import { AppError } from '../app/errors/app-error.ts'
import type { RunControl } from '../app/ports/progress.ts'
import { cancelOnInterrupt } from './cli/cancel-on-interrupt.ts'
import { outliveReaders } from './cli/outlive-readers.ts'
import { printable } from './cli/printable.ts'
import { progressReport } from './cli/progress-report.ts'
import { counted } from './cli/table.ts'
import { tellFailure } from './cli/tell-failure.ts'
import { demoSummary } from './demo-summary.ts'
import { openApp } from './open-app.ts'
import { outliveFileLimit } from './outlive-file-limit.ts'
import { productVersion } from './product-version.ts'
import { openWorkshop, WORKSHOP_DATABASE, type Workshop } from './workshop.ts'
import { surroundings, workshopFolder } from './workshop-folder.ts'

// What `npm start` runs once everything is set up: the demo on a machine without a workshop, then
// the app.

const USAGE = `npm start -- [--once] [--no-open] [--workshop DIR]

  --once          prepare the workshop, print the summary and stop
  --no-open       print the window's address instead of opening the browser
  --workshop DIR  the workshop's folder (or CARDWRIGHT_WORKSHOP)
`

interface StartOptions {
  readonly once: boolean
  readonly open: boolean
  readonly workshop: string | undefined
}

function readOptions(argv: readonly string[]): StartOptions | null {
  try {
    const { values } = parseArgs({
      args: [...argv],
      options: {
        once: { type: 'boolean', default: false },
        open: { type: 'boolean', default: true },
        workshop: { type: 'string' },
        help: { type: 'boolean', short: 'h', default: false },
      },
      allowNegative: true,
    })
    return values.help ? null : { once: values.once, open: values.open, workshop: values.workshop }
  } catch (error) {
    const [what = 'Wrong usage'] = error instanceof Error ? error.message.split('. ') : []
    throw new AppError(
      { code: 'usage', what: `${what}.`, where: '', mend: '`npm start -- --help` shows all options.' },
      { cause: error },
    )
  }
}

function print(text: string): void {
  process.stdout.write(`${text}\n`)
}

/** Whether the workshop is ready; false where the demo's card did not verify. */
async function prepare(workshop: Workshop, isNew: boolean, control: RunControl): Promise<boolean> {
  const status = await workshop.core['workshop:status']({}, control)
  const { contents } = await workshop.core['contents:list']({}, control)
  // A demo that was interrupted before its first card is taken up again.
  if (isNew || (status.isDemo && contents.length === 0)) {
    print(printable(`No workshop yet: making the demo workshop in ${status.path}`))
    print('(invented fonts with synthesised sounds, some with faults on purpose)\n')
    const report = await workshop.core['demo:prepare']({}, control)
    print(demoSummary(report))
    return report.make.verified
  }
  print(printable(`Workshop ${status.path}${status.isDemo ? ' (demo)' : ''}`))
  print(
    `${counted(status.fontCount, 'font')}, ${counted(status.soundCount, 'sound')}, ${counted(contents.length, 'card')} made`,
  )
  return true
}

async function start(options: StartOptions, folder: string, cancel: AbortSignal): Promise<number> {
  const isNew = !existsSync(join(folder, WORKSHOP_DATABASE))
  const progress = progressReport({
    isTerminal: process.stderr.isTTY === true,
    columns: process.stderr.columns ?? 80,
    write: (text) => void process.stderr.write(text),
    now: () => performance.now(),
  })
  const workshop = await openWorkshop({ folder })
  try {
    const holds = await prepare(workshop, isNew, {
      onProgress: progress.onProgress,
      cancel,
    }).finally(() => progress.end())
    if (!options.once) await openApp(workshop, { openBrowser: options.open, stop: cancel, print })
    return holds ? 0 : 1
  } finally {
    progress.end()
    await workshop.close()
  }
}

outliveReaders()
outliveFileLimit()
const argv = process.argv.slice(2)
const around = surroundings()
let folder = workshopFolder(undefined, around)
try {
  const options = readOptions(argv)
  if (options === null) process.stdout.write(USAGE)
  else {
    folder = workshopFolder(options.workshop, around)
    print(`Cardwright ${productVersion()}`)
    process.exitCode = await start(options, folder, cancelOnInterrupt().signal)
  }
} catch (thrown) {
  process.exitCode = tellFailure(thrown, { asJson: false, workshopFolder: folder, argv })
}
