import { toolsFor, type PreparingTools } from '../../model/preparation.ts'
import { recipeKey, type Recipe, type RecipeOutcome } from '../../model/recipe.ts'
import type { SoundInspection } from '../../model/sound.ts'
import type { ErrorReport } from '../../errors/app-error.ts'
import type { Preparation, PreparationKey } from '../../ports/preparation-records.ts'
import type { RunControl } from '../../ports/progress.ts'
import type { MadeSound, SoundToMake } from '../../ports/sound-preparer.ts'
import type { FontInHand } from './fonts-to-prepare.ts'
import { refuseFullDisk } from './full-disk.ts'
import { originalFiles } from './original-files.ts'
import type { PreparePorts } from './prepare-ports.ts'

/** A sound with its complete recipe. */
export interface SoundInHand {
  readonly font: FontInHand
  readonly path: string
  readonly sha256: string
  readonly recipe: Recipe
}

/** How a sound came out: where from, or why not. */
export type SoundCame =
  | { readonly state: 'made' | 'kept'; readonly inspection: SoundInspection; readonly outcome: RecipeOutcome }
  | { readonly state: 'failed'; readonly problem: ErrorReport }

/** So many sounds are recorded in one transaction: what a killed run loses is at most these. */
const RECORDED_TOGETHER = 16

/** Prepared sounds that are there already, by the key of what makes them. */
export async function keptSounds(
  sounds: readonly SoundInHand[],
  tools: PreparingTools,
  { database, store }: Pick<PreparePorts, 'database' | 'store'>,
): Promise<ReadonlyMap<SoundInHand, SoundCame>> {
  const found = await database.preparation.findPreparations(sounds.map((sound) => keyOf(sound, tools)))
  const hashes = found.map((each) => each?.preparedSha256 ?? '')
  const inspections = await database.preparation.findInspections(hashes)
  const kept = new Map<SoundInHand, SoundCame>()
  for (const [index, sound] of sounds.entries()) {
    const preparation = found[index]
    const inspection = inspections[index]
    if (preparation == null || inspection == null || !(await store.has(preparation.preparedSha256))) continue
    kept.set(sound, { state: 'kept', inspection, outcome: preparation.outcome })
  }
  return kept
}

/**
 * Makes sounds and brings them into the store, each with its inspection, waveform and record. Equal
 * originals with equal recipes are made once.
 * @throws AppError of the store; Cancelled. What was made until then is kept.
 */
export async function makeSounds(
  sounds: readonly SoundInHand[],
  tools: PreparingTools,
  ports: PreparePorts,
  control: RunControl,
): Promise<ReadonlyMap<SoundInHand, SoundCame>> {
  const came = new Map<SoundInHand, SoundCame>()
  const jobs = await jobsOf(sounds, tools, ports, control, came)
  const recorder = new Recorder(ports)
  let done = 0
  const tell = (current: string | null) =>
    control.onProgress({ phase: 'preparing', done, total: jobs.length, unit: 'files', current })
  // The first sounds come together, and late: how many there are is known now.
  if (jobs.length > 0) tell(null)
  try {
    await ports.preparer.make(
      jobs.map(({ job }) => job),
      async (index, result) => {
        const each = jobs[index]
        if (each === undefined) return
        if ('made' in result) {
          const { made } = result
          await ports.store.takeFile(made.path, made.inspection.sha256)
          await recorder.add(made, each.key)
          for (const sound of each.sounds) {
            came.set(sound, { state: 'made', inspection: made.inspection, outcome: made.outcome })
          }
        } else {
          refuseFullDisk(result.problem)
          for (const sound of each.sounds) came.set(sound, { state: 'failed', problem: result.problem })
        }
        done++
        tell(each.sounds[0]?.path ?? null)
      },
      control.cancel,
    )
  } finally {
    await recorder.flush()
  }
  return came
}

interface Job {
  readonly key: PreparationKey
  readonly job: SoundToMake
  readonly sounds: SoundInHand[]
}

async function jobsOf(
  sounds: readonly SoundInHand[],
  tools: PreparingTools,
  ports: PreparePorts,
  control: RunControl,
  came: Map<SoundInHand, SoundCame>,
): Promise<readonly Job[]> {
  const jobs = new Map<string, Job>()
  for (const font of new Set(sounds.map((sound) => sound.font))) {
    const own = sounds.filter((sound) => sound.font === font)
    const wanted = new Set(own.map(({ sha256 }) => sha256))
    const { byHash, problem } = await originalFiles(font.edition, wanted, ports, control)
    for (const sound of own) {
      const original = byHash.get(sound.sha256)
      if (original === undefined) {
        if (problem !== null) came.set(sound, { state: 'failed', problem })
        continue
      }
      const key = keyOf(sound, tools)
      const name = JSON.stringify(key)
      const same = jobs.get(name)
      if (same === undefined)
        jobs.set(name, { key, job: { original, recipe: sound.recipe }, sounds: [sound] })
      else same.sounds.push(sound)
    }
  }
  return [...jobs.values()]
}

function keyOf({ sha256, recipe }: SoundInHand, tools: PreparingTools): PreparationKey {
  const by = toolsFor(recipe, tools)
  return { originalSha256: sha256, recipeKey: recipeKey(recipe), tools: by }
}

/** Records made sounds a few at a time: a transaction each would cost more than many a sound. */
class Recorder {
  readonly #ports: PreparePorts
  #waiting: { made: MadeSound; preparation: Preparation }[] = []

  constructor(ports: PreparePorts) {
    this.#ports = ports
  }

  async add(made: MadeSound, key: PreparationKey): Promise<void> {
    const preparation = { ...key, preparedSha256: made.inspection.sha256, outcome: made.outcome }
    this.#waiting.push({ made, preparation })
    if (this.#waiting.length >= RECORDED_TOGETHER) await this.flush()
  }

  async flush(): Promise<void> {
    const waiting = this.#waiting
    this.#waiting = []
    if (waiting.length === 0) return
    const places = await this.#ports.peaks.append(
      waiting.flatMap(({ made }) =>
        made.peaks === null ? [] : [{ sha256: made.inspection.sha256, bytes: made.peaks }],
      ),
    )
    await this.#ports.database.inTransaction(async ({ library, preparation }) => {
      await library.keepInspections(
        waiting.map(({ made }) => made.inspection),
        places,
      )
      await preparation.keepPreparations(waiting.map((each) => each.preparation))
    })
  }
}
