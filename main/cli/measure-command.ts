import type { Command } from 'commander'
import { statSync } from 'node:fs'
import type { MeasuredSound } from '../../app/contract/measured-sound.ts'
import type { SoundInspection } from '../../app/model/sound.ts'
import type { RunControl } from '../../app/ports/progress.ts'
import type { FileToInspect, SpeakerReadings } from '../../app/ports/sound-inspector.ts'
import { openWorkerInspector } from '../workers/worker-inspector.ts'
import { examples } from './examples.ts'
import { readLowLimitHz } from './low-limit-option.ts'
import { measuredDocument } from './measured-document.ts'
import { printable } from './printable.ts'
import type { Session } from './session.ts'
import { decimal, table, type Cell } from './table.ts'

/** `measure`: facts and measures of sound files, without a workshop. Holds where all could be read. */
export function registerMeasure(program: Command, session: Session): void {
  program
    .command('measure')
    .description('what each sound file is and how loud it is; needs no workshop')
    .argument('<file...>', 'sound files, WAV or other')
    .option('--speaker <hz>', 'also measure as heard through a speaker with this low limit', (text) =>
      readLowLimitHz(text),
    )
    .addHelpText('after', examples('measure hum.wav clash.wav', 'measure hum.wav --speaker 300 --json'))
    .action((words: string[], options: { speaker?: number }) =>
      session.withoutWorkshop(async (control) => {
        const sounds = await measureFiles(
          words,
          words.map((word) => session.resolvePath(word)),
          options.speaker ?? null,
          control,
        )
        const unread = sounds.filter(({ error }) => error !== undefined).length
        return {
          document: sounds,
          text: measuredText(sounds, options.speaker ?? null),
          holds: unread === 0,
          unusable: unread === sounds.length,
        }
      }),
    )
}

/** Measures files in argument order; `paths` are the same resolved. */
async function measureFiles(
  names: readonly string[],
  paths: readonly string[],
  speakerHz: number | null,
  control: RunControl,
): Promise<MeasuredSound[]> {
  const files = paths.map((path): FileToInspect => ({ path, sizeBytes: sizeOf(path) }))
  const inspections: SoundInspection[] = []
  const heard: SpeakerReadings[] = []
  const inspector = openWorkerInspector()
  let done = 0
  const advance = (index: number, phase: string) =>
    control.onProgress({
      phase,
      done: ++done,
      total: files.length,
      unit: 'files',
      current: names[index] ?? null,
    })
  try {
    const onRead = (index: number, { inspection }: { inspection: SoundInspection }) => {
      inspections[index] = inspection
      advance(index, 'measuring')
    }
    await inspector.inspectFiles(files, onRead, control.cancel)
    done = 0
    if (speakerHz !== null) {
      const onHeard = (index: number, readings: SpeakerReadings | null) => {
        heard[index] = readings ?? { integratedLufs: null, momentaryMaxLufs: null }
        advance(index, 'measuring through the speaker')
      }
      await inspector.measureThroughSpeaker(files, speakerHz, onHeard, control.cancel)
    }
  } finally {
    await inspector.close()
  }
  return inspections.map((inspection, index) =>
    measuredDocument(paths[index] ?? '', inspection, heard[index] ?? null),
  )
}

function sizeOf(path: string): number {
  return statSync(path, { throwIfNoEntry: false })?.size ?? 0
}

function measuredText(sounds: readonly MeasuredSound[], speakerHz: number | null): string {
  const headings = ['sound', 'format', 'Hz', 'bits', 'channels', 'seconds', 'LUFS', 'dBTP', 'remark']
  if (speakerHz !== null) headings.splice(7, 0, `LUFS from ${speakerHz} Hz`)
  const rows = sounds.map((sound): Cell[] => {
    const row: Cell[] = [
      sound.path,
      sound.coding === null ? null : `${sound.container} ${sound.coding}`,
      sound.sampleRateHz,
      sound.bitDepth,
      sound.channels,
      decimal(sound.seconds, 2),
      decimal(sound.levelLufs, 1),
      decimal(sound.levels.truePeakDbtp, 1),
      remark(sound),
    ]
    if (speakerHz !== null) row.splice(7, 0, decimal(sound.throughSpeakerLufs, 1))
    return row
  })
  return table(headings, rows)
}

function remark({ error, defects }: MeasuredSound): string {
  const [first, ...others] = error === undefined ? defects.map(({ message }) => message) : [error.message]
  if (first === undefined) return ''
  return printable(others.length === 0 ? first : `${first} And ${others.length} more.`)
}
