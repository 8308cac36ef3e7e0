import { answerGroup, type AskedSound } from '../../app/audio/prepare/answer-group.ts'
import { actionOf } from '../../app/audio/prepare/run-recipe.ts'
import { Cancelled } from '../../app/errors/app-error.ts'
import type { SoundAnswer, SoundGroup, SoundQuestion } from '../../app/model/preparation.ts'
import type { Came, GroupToAnswer, MadeSound, SoundToMake } from '../../app/ports/sound-preparer.ts'
import { arriveAll, enter, leaveAll, NO_FOLD, type Arrived } from './arrivals.ts'
import { madeFrom } from './made-sound.ts'
import type { OpenSamples } from './original-source.ts'
import type { PrepareTools } from './prepare-tools.ts'
import { preparingFault } from './preparing-faults.ts'

/** What is only measured needs no finer samples than these, whatever it is rounded to. */
const LISTENING_BITS = 16

/** Answers groups of one job. Each is answered or has a problem; only Cancelled is thrown. */
export async function answerGroups(
  groups: readonly GroupToAnswer[],
  tools: PrepareTools,
  onDone: (place: number, came: Came<readonly SoundAnswer[]>) => void,
): Promise<void> {
  const asked = groups.flatMap(({ group, originals }, place) =>
    group.sounds.map((question, index) => ({ place, question, original: originals[index] })),
  )
  const arrivals = await arriveAll(
    asked.map(({ original, question }) => ({
      original,
      recipe: question.recipe,
      foldTo: question.foldTo,
      bitDepth: LISTENING_BITS,
    })),
    tools,
  )
  try {
    groups.forEach(({ group }, place) => {
      const members = asked.flatMap((each, index) =>
        each.place === place ? [{ question: each.question, arrived: arrivals[index] }] : [],
      )
      onDone(
        place,
        guarded(() => answersOf(group, members, tools)),
      )
    })
  } finally {
    leaveAll(arrivals, tools)
  }
}

function answersOf(
  group: SoundGroup,
  members: readonly { readonly question: SoundQuestion; readonly arrived: Arrived | undefined }[],
  tools: PrepareTools,
): readonly SoundAnswer[] {
  const opened: OpenSamples[] = []
  try {
    const sounds = members.map(({ question, arrived }): AskedSound => {
      const samples = enter(arrived)
      opened.push(samples)
      return { question, source: samples.source, folded: arrived?.folded ?? NO_FOLD }
    })
    return answerGroup(group, sounds, tools.kernel, tools.cancel)
  } finally {
    for (const samples of opened) samples.close()
  }
}

/** Makes the sounds of one job. Each is made or has a problem; only Cancelled is thrown. */
export async function makeSounds(
  sounds: readonly SoundToMake[],
  tools: PrepareTools,
  onDone: (place: number, came: Came<MadeSound>) => void,
): Promise<void> {
  const arrivals = await arriveAll(
    sounds.map(({ original, recipe }) => {
      return { original, recipe, foldTo: null, bitDepth: actionOf(recipe, 'bit-depth')?.bitDepth ?? 32 }
    }),
    tools,
  )
  try {
    sounds.forEach(({ original, recipe }, place) => {
      onDone(
        place,
        guarded(() => {
          const samples = enter(arrivals[place])
          try {
            return madeFrom(samples, recipe, original.sha256, tools)
          } finally {
            samples.close()
          }
        }),
      )
    })
  } finally {
    leaveAll(arrivals, tools)
  }
}

function guarded<T>(work: () => T): Came<T> {
  try {
    return { made: work() }
  } catch (error) {
    if (error instanceof Cancelled) throw error
    return { problem: preparingFault(error) }
  }
}
