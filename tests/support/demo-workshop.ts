import { mkdtempSync, readFileSync, rmSync } from 'node:fs'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { afterAll, beforeAll } from 'vitest'
import type { ResponseOf } from '../../app/contract/calls.ts'
import { readScenario, type DemoScenario } from '../../app/usecases/demo/scenario.ts'
import { runCli } from './run-cli.ts'

export const demoScenario: DemoScenario = readScenario(
  readFileSync(new URL('../../resources/demo/scenario.yaml', import.meta.url), 'utf8'),
)

export interface DemoWorkshop {
  /** A folder for this file's tests, with the workshop in it. */
  readonly base: string
  readonly folder: string
  readonly report: ResponseOf<'demo:prepare'>
}

/** Makes the demo workshop once for all tests of a file, by the command line; it goes afterwards. */
export function demoWorkshop(): DemoWorkshop {
  const base = mkdtempSync(join(tmpdir(), 'cardwright-demo-'))
  const folder = join(base, 'workshop')
  let report: DemoWorkshop['report'] | undefined
  beforeAll(async () => {
    const run = await runCli(['demo', '--json', '--workshop', folder])
    if (run.code !== 0) throw new Error(`The demo could not be made: ${run.stderr}`)
    report = JSON.parse(run.stdout) as DemoWorkshop['report']
  })
  afterAll(() => rmSync(base, { recursive: true, force: true }))
  return {
    base,
    folder,
    get report() {
      if (report === undefined) throw new Error('The demo is made before the first test, not before.')
      return report
    },
  }
}
