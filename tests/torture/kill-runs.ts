import { rmSync } from 'node:fs'
import { dirname } from 'node:path'
import { isDeepStrictEqual } from 'node:util'
import { seededRandom } from '../support/signals.ts'
import { ACTS, openTortureBench, type Act, type Place, type TortureBench } from './torture-bench.ts'
import { treeHash } from './tree-hash.ts'
import { faultLogs, leftoverFaults, workshopFaults } from './workshop-faults.ts'

export interface KillOptions {
  readonly kills: number
  readonly seed: number
  readonly acts?: readonly Act[]
  /** Called after each kill. */
  readonly onKill?: (done: number, what: string) => void
}

export interface KillReport {
  /** How often each act was killed. */
  readonly killed: Readonly<Record<string, number>>
  /** Runs after a kill that went to their end. */
  readonly finished: number
  /** Ways of killing, and how often. */
  readonly ways: Readonly<Record<string, number>>
  /** Each with how it came about; none where everything holds. */
  readonly faults: readonly string[]
}

/** Processes are killed two at a time: small machines have two processors. */
const LANES = 2
/** Between the seeds of two lanes. */
const LANE_SEED = 7919
/** So many kills one after the other are survived at most before a run is let go to its end. */
const MOST_IN_A_ROW = 3
/** Runs that were over before the kill came are drawn anew, but not for ever. */
const MOST_MISSES = 10

/**
 * Kills the command line again and again with SIGKILL, at a step, a byte or a moment that is drawn, and
 * looks at the workshop each time; after one to three kills the same command must go to its end and come
 * to what an undisturbed one comes to.
 */
export async function killRuns({ kills, seed, acts = ACTS, onKill }: KillOptions): Promise<KillReport> {
  const bench = await openTortureBench(acts)
  const originals = treeHash(bench.library)
  let done = 0
  const count = (what: string) => onKill?.(++done, what)
  try {
    const lanes = Array.from({ length: LANES }, (_, lane) => {
      const share = Math.floor((kills + lane) / LANES)
      return new Killer(bench, acts, seed + lane * LANE_SEED, count).kill(share, lane)
    })
    const report = sumOf(await Promise.all(lanes))
    const faults = treeHash(bench.library) === originals ? [] : ['originals were changed']
    return { ...report, faults: [...report.faults, ...faults] }
  } finally {
    bench.remove()
  }
}

class Killer {
  readonly #bench: TortureBench
  readonly #acts: readonly Act[]
  readonly #random: () => number
  readonly #onKill: (what: string) => void
  readonly #killed: Record<string, number> = {}
  readonly #ways: Record<string, number> = {}
  readonly #faults: string[] = []
  #done = 0
  #finished = 0

  constructor(bench: TortureBench, acts: readonly Act[], seed: number, onKill: (what: string) => void) {
    this.#bench = bench
    this.#acts = acts
    this.#random = seededRandom(seed)
    this.#onKill = onKill
  }

  /** @param firstAct which of the acts comes first */
  async kill(kills: number, firstAct: number): Promise<KillReport> {
    for (let round = firstAct; this.#done < kills; round++) {
      const act = this.#acts[round % this.#acts.length] ?? 'scan'
      await this.#round(act, Math.min(1 + this.#below(MOST_IN_A_ROW), kills - this.#done))
    }
    return { killed: this.#killed, finished: this.#finished, ways: this.#ways, faults: this.#faults }
  }

  async #round(act: Act, kills: number): Promise<void> {
    const place = this.#bench.newPlace(act)
    const reference = this.#bench.reference(act)
    const story: string[] = []
    for (let left = kills, misses = 0; left > 0 && misses < MOST_MISSES;) {
      const { way, what, arming, killAfterMs } = this.#draw(act)
      const run = await this.#bench.run(place, arming, killAfterMs === undefined ? {} : { killAfterMs })
      if (run.signal !== 'SIGKILL') {
        misses++
        if (run.code === 0) continue
        this.#faults.push(
          `${[...story, `${act} was not killed and ended with ${run.code}`].join(', ')}: ${run.stderr}${faultLogs(place)}`,
        )
        break
      }
      left--
      story.push(`${act} killed at ${what}`)
      this.#killed[act] = (this.#killed[act] ?? 0) + 1
      this.#ways[way] = (this.#ways[way] ?? 0) + 1
      this.#done++
      this.#onKill(`${act} at ${what}`)
      this.#note(story, await workshopFaults(place, reference.outcome))
    }
    await this.#finish(place, story)
    rmSync(dirname(place.workshop), { recursive: true, force: true })
  }

  async #finish(place: Place, story: readonly string[]): Promise<void> {
    const reference = this.#bench.reference(place.act)
    const run = await this.#bench.run(place)
    if (run.code !== 0)
      return this.#note(story, [
        `the next run ended with ${run.code ?? run.signal}: ${run.stderr}${faultLogs(place)}`,
      ])
    this.#finished++
    const outcome = this.#bench.outcomeOf(place, run.stdout)
    this.#note(story, [
      ...(isDeepStrictEqual(outcome, reference.outcome)
        ? []
        : [`the next run came to something else: ${JSON.stringify(outcome)}`]),
      ...(await workshopFaults(place, reference.outcome)),
      ...leftoverFaults(place),
    ])
  }

  #draw(act: Act) {
    const { steps, bytes, ms } = this.#bench.reference(act)
    const way = this.#below(3)
    if (way === 0) {
      const killAtStep = 1 + this.#below(steps)
      return {
        way: 'step',
        what: `step ${killAtStep} of ${steps}`,
        arming: { killAtStep },
        killAfterMs: undefined,
      }
    }
    if (way === 1 && bytes > 0) {
      const killAtByte = 1 + this.#below(bytes)
      return {
        way: 'byte',
        what: `byte ${killAtByte} of ${bytes}`,
        arming: { killAtByte },
        killAfterMs: undefined,
      }
    }
    const killAfterMs = this.#below(Math.round(ms))
    return { way: 'moment', what: `${killAfterMs} of ${Math.round(ms)} ms`, arming: {}, killAfterMs }
  }

  #note(story: readonly string[], faults: readonly string[]): void {
    for (const fault of faults) this.#faults.push(`${story.join(', ')}: ${fault}`)
  }

  #below(limit: number): number {
    return Math.floor(this.#random() * limit)
  }
}

function sumOf(reports: readonly KillReport[]): KillReport {
  const sum = (counts: readonly Readonly<Record<string, number>>[]) => {
    const all: Record<string, number> = {}
    for (const [name, count] of counts.flatMap(Object.entries)) all[name] = (all[name] ?? 0) + Number(count)
    return all
  }
  return {
    killed: sum(reports.map(({ killed }) => killed)),
    ways: sum(reports.map(({ ways }) => ways)),
    finished: reports.reduce((all, { finished }) => all + finished, 0),
    faults: reports.flatMap(({ faults }) => faults),
  }
}
