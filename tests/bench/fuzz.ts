import { parseArgs } from 'node:util'
import { inspected } from '../support/inspected.ts'
import { mutatedWav, wavCorpus } from '../support/mutated-wav.ts'

// Mutated WAV files by the hundred thousand: no crash, no file that takes long, no growing memory.
// usage: npm run fuzz [-- --count 200000 --seed 1]. Exit 1 where one of that is not so.
const { values } = parseArgs({
  options: { count: { type: 'string', default: '200000' }, seed: { type: 'string', default: '1' } },
})
const count = Number(values.count)
const firstSeed = Number(values.seed)
const LONGEST_MS = 1000
const MOST_GROWTH_BYTES = 200 << 20

const corpus = wavCorpus()
const faults: string[] = []
let slowest = { ms: 0, seed: 0 }
let answered = 0
let defects = 0
let earlyBytes = 0
for (let index = 0; index < count; index++) {
  const seed = firstSeed + index
  const bytes = mutatedWav(corpus, seed)
  const start = performance.now()
  try {
    const { inspection } = inspected(bytes)
    answered++
    if ((inspection.facts?.defects.length ?? 0) > 0) defects++
  } catch (error) {
    faults.push(`seed ${seed}: ${error instanceof Error ? (error.stack ?? error.message) : String(error)}`)
  }
  const ms = performance.now() - start
  if (ms > slowest.ms) slowest = { ms, seed }
  if (index === 5000) earlyBytes = process.memoryUsage().rss
  if (index % 20000 === 19999) process.stderr.write(`${index + 1} of ${count}\n`)
}
const grown = earlyBytes === 0 ? 0 : process.memoryUsage().rss - earlyBytes
const mib = (bytes: number) => `${Math.round(bytes / (1 << 20))} MiB`
process.stdout.write(
  `${answered} of ${count} files answered, ${defects} with defects; slowest ${slowest.ms.toFixed(1)} ms (seed ${slowest.seed}); memory ${mib(process.memoryUsage().rss)}, grown by ${mib(grown)}\n`,
)
for (const fault of faults.slice(0, 20)) process.stdout.write(`${fault}\n`)
process.exitCode = faults.length > 0 || slowest.ms > LONGEST_MS || grown > MOST_GROWTH_BYTES ? 1 : 0
