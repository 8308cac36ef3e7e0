import { parseArgs } from 'node:util'
import { killRuns } from './kill-runs.ts'
import { ACTS, type Act } from './torture-bench.ts'

// The command line killed again and again. usage: npm run torture [-- --kills 200 --seed 1 --act scan].
// Exit 1 where something that must hold did not.
const { values } = parseArgs({
  options: {
    kills: { type: 'string', default: '200' },
    seed: { type: 'string', default: '1' },
    act: { type: 'string', multiple: true, default: [...ACTS] },
  },
})
const kills = Number(values.kills)
const startedMs = performance.now()
const { killed, ways, finished, faults } = await killRuns({
  kills,
  seed: Number(values.seed),
  acts: ACTS.filter((act: Act) => values.act.includes(act)),
  onKill: (done, what) => process.stderr.write(`${done} of ${kills} kills (${what})\n`),
})
const listed = (counts: Readonly<Record<string, number>>) =>
  Object.entries(counts)
    .map(([name, count]) => `${name} ${count}`)
    .join(', ')
for (const fault of faults) process.stdout.write(`${fault}\n`)
const seconds = Math.round((performance.now() - startedMs) / 1000)
process.stdout.write(
  `${kills} kills (${listed(killed)}; by ${listed(ways)}), ${finished} runs after them went to their end; ${faults.length} faults, seed ${values.seed}, ${seconds} s\n`,
)
process.exitCode = faults.length > 0 ? 1 : 0
