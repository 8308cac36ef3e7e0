import { parseArgs } from 'node:util'
import { benchDataFolder, type Bench, type BenchResult } from './bench-kit.ts'
import {
  imageAgainstDd,
  imageAgainstMtools,
  manyFilesAgainstMtools,
  verifyAgainstOpenssl,
} from './cards.bench.ts'
import { fileRowsAgainstRaw, soundRowsAgainstRaw } from './database-rows.bench.ts'
import { hashAndMeasureAtOnce } from './hashing.bench.ts'
import {
  longTracksAgainstFfmpeg,
  smallBatchAgainstC,
  wholeLibraryAgainstC,
  wholeLibraryAgainstFfmpeg,
} from './measuring.bench.ts'
import { preparingAgainstShellLoop, preparingMemory } from './preparing.bench.ts'
import { rulesAgainstRows } from './rules.bench.ts'
import { firstScanAgainstC, rescanAgainstFind, scanGrowth, scanMemory } from './scanning.bench.ts'

// Speed as ratios against a peer on the same bytes in the same run; none of it is a test.
// usage: npm run bench -- [--only P2,P3] [--scale 0.1] [--rounds 5]
// Exit 1 where a number is not held at scale 1.

const BENCHES: readonly Bench[] = [
  wholeLibraryAgainstFfmpeg,
  longTracksAgainstFfmpeg,
  wholeLibraryAgainstC,
  smallBatchAgainstC,
  hashAndMeasureAtOnce,
  imageAgainstMtools,
  imageAgainstDd,
  manyFilesAgainstMtools,
  verifyAgainstOpenssl,
  fileRowsAgainstRaw,
  soundRowsAgainstRaw,
  rulesAgainstRows,
  firstScanAgainstC,
  rescanAgainstFind,
  scanMemory,
  scanGrowth,
  preparingAgainstShellLoop,
  preparingMemory,
]

const { values } = parseArgs({
  options: {
    only: { type: 'string' },
    scale: { type: 'string', default: '1' },
    rounds: { type: 'string', default: '5' },
  },
})
const only = values.only?.split(',')
const context = {
  scale: Number(values.scale),
  rounds: Number(values.rounds),
  dataFolder: benchDataFolder(),
  say: (line: string) => void process.stdout.write(`${line}\n`),
}
const isFull = context.scale === 1
let isHeld = true
for (const bench of BENCHES.filter(({ id }) => only === undefined || only.includes(id))) {
  context.say(`${bench.id}  ${bench.title}`)
  const result = await bench.run(context)
  context.say(`     peer: ${result.peer}`)
  isHeld = show(result) && isHeld
}
process.exitCode = isHeld || !isFull ? 0 : 1

function show(result: BenchResult): boolean {
  if (result.notRun !== undefined) {
    context.say(`     not run: ${result.notRun}`)
    return true
  }
  const { ourSeconds, peerSeconds, unit = 's', kind, hold, remark } = result
  const ratio = kind === 'at least' ? peerSeconds / ourSeconds : ourSeconds / peerSeconds
  const holds = kind === 'at least' ? ratio >= hold : ratio <= hold
  const word = !isFull ? `(scale ${context.scale}: not judged)` : holds ? 'held' : 'NOT HELD'
  context.say(
    `     ours ${ourSeconds.toFixed(3)} ${unit}, peer ${peerSeconds.toFixed(3)} ${unit}, ratio ${ratio.toFixed(2)} (${kind} ${hold})  ${word}`,
  )
  if (remark !== undefined) context.say(`     (${remark})`)
  return holds
}
