import type { Role } from '../../model/role.ts'
import type { SoundInspection } from '../../model/sound.ts'

/** What the sound itself says about a role: more or less likely, and why. */
export interface SoundHint {
  readonly roles: readonly Role[]
  /** Added to the score of these roles; negative where the sound speaks against them. */
  readonly weight: number
  readonly because: string
}

/** A seam below this is lost in the sound (the rule `loop-seam` counts the same). */
const GOOD_SEAM = 1.5
const EVEN_DIP_DB = -6
/** Thresholds of common practice, no source. */
const SECONDS = {
  music: 30,
  surelyMusic: 120,
  longHum: 1,
  shortHit: 0.5,
  longest: { hit: 5, ignite: 12 },
} as const
const STEEP_ONSET_MS = 10

/**
 * What length, seam and onset of a sound say. Long and steady with a good seam: a loop. Under half a
 * second with a steep onset: a clash or deflect. Half a minute and more: perhaps music; two minutes
 * and more: music (speech lasts a minute too). The rest speaks against what a name may claim.
 */
export function soundHints({ facts, measures }: SoundInspection): readonly SoundHint[] {
  const seconds = facts?.seconds ?? null
  if (seconds === null) return []
  const hints: SoundHint[] = []
  const jump = measures?.seam.jumpRatio ?? null
  const dip = measures?.seam.dipDb ?? null
  const isLoop =
    jump !== null && dip !== null && jump <= GOOD_SEAM && dip >= EVEN_DIP_DB && seconds >= SECONDS.longHum
  if (seconds >= SECONDS.music) {
    hints.push({
      roles: ['music'],
      weight: seconds >= SECONDS.surelyMusic ? 0.75 : 0.5,
      because: `it lasts ${Math.round(seconds)} s, as music does`,
    })
  } else if (isLoop) {
    hints.push({
      roles: ['hum', 'lockup', 'drag', 'melt'],
      weight: 0.35,
      because: 'it is steady and its end meets its beginning, as in a loop',
    })
  }
  const onset = measures?.onsetMs ?? null
  if (seconds < SECONDS.shortHit && onset !== null && onset <= STEEP_ONSET_MS && !isLoop) {
    hints.push({
      roles: ['clash', 'deflect'],
      weight: 0.35,
      because: `it is ${seconds.toFixed(2)} s short and sets in at once, as a hit does`,
    })
  }
  if (seconds < SECONDS.longHum / 2) {
    hints.push({
      roles: ['hum', 'music'],
      weight: -0.3,
      because: `${seconds.toFixed(2)} s are too short for it`,
    })
  }
  if (seconds > SECONDS.longest.hit) {
    hints.push({
      roles: ['clash', 'deflect'],
      weight: -0.3,
      because: `${seconds.toFixed(1)} s are too long for it`,
    })
  }
  if (seconds > SECONDS.longest.ignite) {
    hints.push({
      roles: ['ignite', 'retract'],
      weight: -0.2,
      because: `${seconds.toFixed(1)} s are too long for it`,
    })
  }
  return hints
}
