import { parseArgs } from 'node:util'
import { killRuns } from './kill-runs.ts'
import { sweep } from './start-sweep.ts'
import { ACTS, type Act } from './torture-bench.ts'

// The command line killed again and again, or with every step on the disk let fail in turn.
// usage: npm run torture [-- --kills 200 --seed 1 --act scan --act make]
//        npm run torture -- --fail ENOSPC [--first 1 --every 1 --act make]
// Exit 1 where something that must hold did not; the same seed kills in the same places.
const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '200' },
    seed: { type: 'string', default: '1' },
    act: { type: 'string', multiple: true, default: [...ACTS] },
    fail: { type: 'string' },
    first: { type: 'string', default: '1' },
    every: { type: 'string', default: '1' },
  },
})
const startedMs = performance.now()
const acts = ACTS.filter((act: Act) => values.act.includes(act))
const say = (line: string) => void process.stderr.write(`${line}\n`)

const { faults, line } = values.fail === undefined ? await killAll() : await failAll(values.fail)
for (const fault of faults) process.stdout.write(`${fault}\n`)
const seconds = Math.round((performance.now() - startedMs) / 1000)
process.stdout.write(`${line}; ${faults.length} faults, ${seconds} s\n`)
process.exitCode = faults.length > 0 ? 1 : 0

interface Outcome {
  readonly faults: readonly string[]
  /** For people. */
  readonly line: string
}

async function killAll(): Promise<Outcome> {
  const kills = Number(values.kills)
  const { killed, ways, finished, faults } = await killRuns({
    kills,
    seed: Number(values.seed),
    acts,
    onKill: (done, what) => say(`${done} of ${kills} kills (${what})`),
  })
  const runs = `${finished} runs after them went to their end`
  const line = `${kills} kills (${listed(killed)}; by ${listed(ways)}), ${runs}, seed ${values.seed}`
  return { faults, line }
}

async function failAll(failWith: string): Promise<Outcome> {
  const faults: string[] = []
  const told: Record<string, number> = {}
  let tried = 0
  for (const act of acts) {
    const [first, every] = [Number(values.first), Number(values.every)]
    const report = await sweep({ act, failWith, first, every, onProgress: say })
    tried += report.tried
    for (const [code, count] of Object.entries(report.told)) told[code] = (told[code] ?? 0) + count
    faults.push(...report.faults.map((fault) => `${act}, ${fault}`))
  }
  return { faults, line: `${tried} steps failed with ${failWith} (told: ${listed(told)})` }
}

function listed(counts: Readonly<Record<string, number>>): string {
  return Object.entries(counts)
    .map(([name, count]) => `${name} ${count}`)
    .join(', ')
}
