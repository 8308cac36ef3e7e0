import { rmSync } from 'node:fs'
import { dirname } from 'node:path'
import { isDeepStrictEqual, parseArgs } from 'node:util'
import { arm, failedWhileTidying, stepsSoFar } from './interpose.ts'
import { ACTS, openTortureBench, type Act, type Place, type TortureBench } from './torture-bench.ts'
import { faultLogs, leftoverFaults, workshopFaults } from './workshop-faults.ts'
import type { SweepReport } from './start-sweep.ts'

// Lets the n-th step of an act fail, for every n-th that is asked for, in this very process; started with
// `interpose.ts` by start-sweep.ts. Writes its report on standard output.
const { values } = parseArgs({
  options: {
    act: { type: 'string', default: 'make' },
    first: { type: 'string', default: '1' },
    every: { type: 'string', default: '1' },
  },
})
const act = ACTS.find((each: Act) => each === values.act) ?? 'make'
const { runCommandLine } = await import('../../main/cli/run-command-line.ts')
const reallyWrite = process.stdout.write.bind(process.stdout)

const bench = await openTortureBench([act])
const told: Record<string, number> = {}
const faults: string[] = []
let tried = 0
let passedOver = 0
try {
  const { steps } = bench.reference(act)
  for (let step = Number(values.first); ; step += Number(values.every)) {
    const place = bench.newPlace(act)
    const { isReached } = await failAt(bench, place, step)
    rmSync(dirname(place.workshop), { recursive: true, force: true })
    if (!isReached) break
    tried++
    process.stderr.write(`step ${step} of about ${steps} (${act})\n`)
  }
} finally {
  bench.remove()
}
const report: SweepReport = { tried, told, passedOver, faults }
reallyWrite(`${JSON.stringify(report)}\n`)

async function failAt(bench: TortureBench, place: Place, step: number): Promise<{ isReached: boolean }> {
  const reference = bench.reference(place.act).outcome
  const note = (found: readonly string[]) => faults.push(...found.map((fault) => `step ${step}: ${fault}`))
  arm({ failAtStep: step })
  const run = await runHere(bench.wordsFor(place))
  const isReached = stepsSoFar() >= step
  const isUntidy = failedWhileTidying()
  arm({})
  if (run.code === 0) {
    if (isReached) passedOver++
    if (!isDeepStrictEqual(bench.outcomeOf(place, run.stdout), reference))
      note(['it says that all is well, and it is not'])
  } else note(complaintsAbout(run).map((complaint) => `${complaint}${faultLogs(place)}`))
  note(await workshopFaults(place, reference, 'failed'))
  if (!isUntidy) note(leftoverFaults(place, run.code === 0 ? 'ended' : 'broken off'))
  if (isReached && run.code !== 0) {
    const again = await runHere(bench.wordsFor(place))
    if (again.code !== 0) note([`the next run ended with ${again.code}: ${again.stderr}`])
    else if (!isDeepStrictEqual(bench.outcomeOf(place, again.stdout), reference))
      note(['the next run came to something else'])
    note(await workshopFaults(place, reference, 'failed'))
  }
  return { isReached }
}

/**
 * A failure is told in one sentence with a stable code, and ends with 3. Where one file or sound of many
 * could not be had, the others are done, each problem is told, and it ends with 1.
 */
function complaintsAbout({ code, stdout, stderr }: Ran): readonly string[] {
  const document: unknown = stdout === '' ? {} : JSON.parse(stdout)
  const { error } = document as { error?: { code: string; mend: string } }
  const codes = error === undefined ? problemsIn(document) : [error.code]
  for (const each of codes) told[each] = (told[each] ?? 0) + 1
  return [
    ...(code === (error === undefined ? 1 : 3) ? [] : [`it ended with ${code}: ${stderr}`]),
    ...(codes.length === 0 || codes.includes('internal') ? [`it told ${codes.join()}: ${stderr}`] : []),
    ...(error?.mend === '' ? [`it told no way to mend it: ${stderr}`] : []),
  ]
}

/** Codes of every `problem` and of all `problems` in a document. */
function problemsIn(value: unknown): readonly string[] {
  if (typeof value !== 'object' || value === null) return []
  return Object.entries(value).flatMap(([key, inner]: [string, unknown]) => {
    const found = key === 'problem' ? [inner] : key === 'problems' ? (inner as unknown[]) : undefined
    if (found === undefined) return problemsIn(inner)
    return found.flatMap((each) => (each === null ? [] : [(each as { code: string }).code]))
  })
}

interface Ran {
  readonly code: number
  readonly stdout: string
  readonly stderr: string
}

async function runHere(words: readonly string[]): Promise<Ran> {
  const caught = { stdout: '', stderr: '' }
  const before = { stdout: process.stdout.write, stderr: process.stderr.write }
  for (const name of ['stdout', 'stderr'] as const) {
    process[name].write = (text: string | Uint8Array) => {
      caught[name] += String(text)
      return true
    }
  }
  try {
    return { code: await runCommandLine(words), ...caught }
  } finally {
    process.stdout.write = before.stdout
    process.stderr.write = before.stderr
  }
}
