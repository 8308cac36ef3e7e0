import { levelOfFile } from '../../app/audio/level-of.ts'
import { noMeasures } from '../../app/audio/measure/no-measures.ts'
import type { MeasuredSound } from '../../app/contract/measured-sound.ts'
import type { SoundInspection } from '../../app/model/sound.ts'
import type { SpeakerReadings } from '../../app/ports/sound-inspector.ts'

/**
 * One file's entry in the document of `measure --json`.
 * @param throughSpeaker null where no speaker was named
 */
export function measuredDocument(
  path: string,
  inspection: SoundInspection,
  throughSpeaker: SpeakerReadings | null,
): MeasuredSound {
  const { facts, problem, sha256 } = inspection
  const { reasons, ...measures } = inspection.measures ?? noMeasures('not-read')
  const loops = facts?.loops ?? []
  const levelLufs = levelOfFile(loops, measures.levels)
  const throughSpeakerLufs = throughSpeaker === null ? null : levelOfFile(loops, throughSpeaker)
  const allReasons = {
    ...reasons,
    ...(levelLufs === null ? { levelLufs: reasons.momentaryMaxLufs ?? 'not-read' } : {}),
    ...(throughSpeakerLufs === null ? { throughSpeakerLufs: whyNoSpeaker(throughSpeaker, reasons) } : {}),
  }
  return {
    path,
    bytes: sha256 === '' ? null : inspection.sizeBytes,
    sha256: sha256 === '' ? null : sha256,
    container: facts?.container ?? null,
    coding: facts?.coding ?? null,
    formatTag: facts?.formatTag ?? null,
    channels: facts?.channels ?? null,
    sampleRateHz: facts?.sampleRateHz ?? null,
    bitDepth: facts?.bitDepth ?? null,
    validBits: facts?.validBits ?? null,
    frames: facts?.frames ?? null,
    seconds: facts?.seconds ?? null,
    chunks: facts?.chunks ?? [],
    loops,
    defects: facts?.defects ?? [],
    ...measures,
    levelLufs,
    throughSpeakerLufs,
    reasons: allReasons,
    ...(problem === null ? {} : { error: problem }),
  }
}

function whyNoSpeaker(readings: SpeakerReadings | null, reasons: Readonly<Record<string, string>>): string {
  return readings === null ? 'no-speaker-named' : (reasons.momentaryMaxLufs ?? 'not-measured')
}
