/** The two ways in which a sound can be heard: as it came, and as it was prepared. */
export const TAKES = ['original', 'prepared'] as const
export type TakeName = (typeof TAKES)[number]

/** What is needed to know where one take stands against the other. */
export interface TakeShape {
  readonly lengthSeconds: number
  /** How much of the original's beginning it lacks. */
  readonly leadSeconds: number
  readonly isLoop: boolean
}

/**
 * Where a take stands some time after it was begun at a place of its own: a loop goes round, all else
 * ends. Null once it has ended.
 */
export function placeAfter(
  { lengthSeconds, isLoop }: TakeShape,
  beganAtSeconds: number,
  elapsedSeconds: number,
): number | null {
  const reached = beganAtSeconds + elapsedSeconds
  if (reached < lengthSeconds) return Math.max(0, reached)
  return isLoop && lengthSeconds > 0 ? reached % lengthSeconds : null
}

/** The place of one take at which the other has what stands at `seconds` of it. */
export function sameMoment(from: TakeShape, seconds: number, to: TakeShape): number {
  const moment = seconds + from.leadSeconds - to.leadSeconds
  if (to.lengthSeconds <= 0) return 0
  if (!to.isLoop) return Math.min(Math.max(0, moment), to.lengthSeconds)
  return ((moment % to.lengthSeconds) + to.lengthSeconds) % to.lengthSeconds
}

/** A step of a recipe as documents tell it. */
interface ToldStep {
  readonly step: string
  readonly numbers: Readonly<Record<string, number | string | boolean>>
}

/** How much of a sound's beginning a recipe leaves out, in seconds. */
export function leadOf(steps: readonly ToldStep[], preparedRateHz: number | null): number {
  const numberOf = (step: string, key: string) => {
    const value = steps.find((each) => each.step === step)?.numbers[key]
    return typeof value === 'number' ? value : 0
  }
  const startSeconds =
    preparedRateHz === null || preparedRateHz <= 0
      ? 0
      : numberOf('repair-seam', 'startFrame') / preparedRateHz
  return numberOf('trim', 'leadMs') / 1000 + startSeconds
}
