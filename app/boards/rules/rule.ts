import type { AudioFacts } from '../../model/audio-facts.ts'
import type { Finding } from '../../model/finding.ts'
import type { Measures } from '../../model/measures.ts'
import type { Sound } from '../../model/sound.ts'
import type { CardLook } from './card-look.ts'
import type { FontLook } from './font-look.ts'
import type { RuleId } from './severities.ts'

/** What a rule says about one thing; its severity comes from the table. */
export interface Miss extends Omit<Finding, 'rule' | 'severity'> {
  /** The limit that was passed, where it is a most: one that was only seen playing proves nothing of more. */
  readonly mostOf?: string
}

/** What a rule says about one sound; the path is filled in. */
export type SoundMiss = Omit<Miss, 'path'>

/** A rule about one font. Pure; never throws for what a font holds. */
export interface FontRule {
  readonly id: RuleId
  judge(look: FontLook): readonly Miss[]
}

/** A rule about all fonts of one card together. */
export interface CardRule {
  readonly id: RuleId
  judge(look: CardLook): readonly Miss[]
}

/** A rule that looks at each sound by itself. */
export function soundRule(
  id: RuleId,
  judgeSound: (sound: Sound, look: FontLook) => SoundMiss | null,
): FontRule {
  return {
    id,
    judge: (look) => {
      const misses: Miss[] = []
      for (const sound of look.edition.sounds) {
        const miss = judgeSound(sound, look)
        if (miss !== null) misses.push({ path: sound.path, ...miss })
      }
      return misses
    },
  }
}

/** A rule about the facts of each sound that could be read. */
export function factsRule(
  id: RuleId,
  judgeFacts: (facts: AudioFacts, look: FontLook, sound: Sound) => SoundMiss | null,
): FontRule {
  return soundRule(id, (sound, look) =>
    sound.inspection.facts === null ? null : judgeFacts(sound.inspection.facts, look, sound),
  )
}

/** A rule about the measures of each sound that could be measured. */
export function measuresRule(
  id: RuleId,
  judgeMeasures: (measures: Measures, sound: Sound, look: FontLook) => SoundMiss | null,
): FontRule {
  return soundRule(id, (sound, look) =>
    sound.inspection.measures === null ? null : judgeMeasures(sound.inspection.measures, sound, look),
  )
}
