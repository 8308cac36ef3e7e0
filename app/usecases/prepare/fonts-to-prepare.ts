import type { FontToPrepare } from '../../audio/prepare/draft-font.ts'
import type { SoundToPrepare } from '../../audio/prepare/sound-to-prepare.ts'
import { judgeEdition, type Judged } from '../../boards/judge.ts'
import type { Edition } from '../../model/library.ts'
import type { RecipeChoice, RecipeStepName } from '../../model/recipe.ts'
import type { Sound } from '../../model/sound.ts'
import type { CardOrder } from '../card-order.ts'
import { levelOfSound } from '../judging.ts'
import type { SpeakerLevelOf } from '../speaker-levels.ts'

/** The speaker that loops are heard through, with the levels that it gives. */
export interface SpeakerInUse {
  /** Null where nobody knows. */
  readonly lowLimitHz: number | null
  readonly levelOf: SpeakerLevelOf
}

/** A font of the run with what its board says of it. */
export interface FontInHand {
  readonly edition: Edition
  readonly judged: Judged
  readonly font: FontToPrepare
}

/** What a board makes of a font, judged by its sound alone: licences do not ask for steps. */
export function judgeForPreparing(
  edition: Edition,
  { board, scheme, build }: Pick<CardOrder, 'board' | 'scheme' | 'build'>,
  speaker: SpeakerInUse,
): Judged {
  return judgeEdition(edition, board, {
    scheme,
    levelOf: levelOfSound,
    speakerLowLimitHz: speaker.lowLimitHz,
    throughSpeakerLevelOf: speaker.levelOf,
    licences: null,
    inPlace: false,
    changes: build?.ruleChanges ?? [],
  })
}

/**
 * Fonts as recipes are chosen for them. Sounds without a role or without facts are not among them:
 * the first get no name on a card, and nothing can be done to the second.
 * @param outputs hashes that came out of a recipe for this board
 */
export function fontsToPrepare(
  order: CardOrder,
  speaker: SpeakerInUse,
  outputs: ReadonlySet<string>,
  choices: readonly RecipeChoice[],
): readonly FontInHand[] {
  return order.editions.map((edition) => {
    const judged = judgeForPreparing(edition, order, speaker)
    // Prepared sounds stand for every build of the board: what one build makes light of is mended all the same.
    const forSteps =
      (order.build?.ruleChanges ?? []).length === 0
        ? judged
        : judgeForPreparing(edition, { ...order, build: null }, speaker)
    const own = choices.filter(({ editionId }) => editionId === edition.id)
    const sounds = edition.sounds.flatMap((sound): SoundToPrepare[] => {
      const { place, path, inspection } = sound
      const { facts, measures, sha256 } = inspection
      if (place === null || facts === null) return []
      const findings = forSteps.findings.filter((finding) => finding.path === path)
      const isPrepared = outputs.has(sha256)
      return [{ path, sha256, place, facts, measures, findings, choices: choicesFor(sound, own), isPrepared }]
    })
    return {
      edition,
      judged,
      font: { editionId: edition.id, name: edition.font.name, sounds, speakerLowLimitHz: speaker.lowLimitHz },
    }
  })
}

/** The narrowest word on each step: the sound's own before its role's before the font's. */
function choicesFor(
  { path, place }: Sound,
  choices: readonly RecipeChoice[],
): ReadonlyMap<RecipeStepName, number | null> {
  const found = new Map<RecipeStepName, number | null>()
  const widestFirst = [
    choices.filter((choice) => choice.path === null && choice.role === null),
    choices.filter((choice) => choice.path === null && choice.role === place?.role),
    choices.filter((choice) => choice.path === path),
  ]
  for (const { step, value } of widestFirst.flat()) found.set(step, value)
  return found
}
