import { mkdtemp, rm, writeFile } from 'node:fs/promises'
import { tmpdir } from 'node:os'
import { join } from 'node:path'
import { AppError, Cancelled } from '../app/errors/app-error.ts'
import type { ContentStore } from '../app/ports/content-store.ts'
import type { LibraryFiles } from '../app/ports/library-files.ts'
import type { RunControl } from '../app/ports/progress.ts'
import type { FileToHear, SoundInspector, SpeakerReadings } from '../app/ports/sound-inspector.ts'
import type { EditionToHear, SpeakerMeter } from '../app/ports/speaker-meter.ts'
import { originalsFrom } from '../app/usecases/keep-originals.ts'
import { OWN_TEMPORARY } from './adapters/files/temporary-folder.ts'

export interface MeterParts {
  readonly store: Pick<ContentStore, 'pathOf'>
  readonly openFiles: () => LibraryFiles
  readonly inspector: Pick<SoundInspector, 'measureThroughSpeaker'>
}

/**
 * Hears sounds where they lie: in the store, else in the folders of the last scan, else in its archives,
 * out of which they are unpacked for the moment.
 */
export function speakerMeter(parts: MeterParts): SpeakerMeter {
  return {
    async measure(editions, limitHz, control) {
      const scratch = scratchFolder()
      try {
        const files: FileToHear[] = []
        for (const edition of editions) {
          if (control.cancel.aborted) throw new Cancelled()
          files.push(...(await filesOf(edition, scratch, parts, control)))
        }
        return await heardIn(files, limitHz, parts, control)
      } finally {
        await scratch.remove()
      }
    },
  }
}

/** Where entries of archives are unpacked to be heard; made when the first one is, and named so that it is known if a killed process leaves it. */
interface Scratch {
  /** @throws AppError `store/unreadable`: then that one sound is not heard */
  write(name: string, bytes: Uint8Array): Promise<string>
  remove(): Promise<void>
}

function scratchFolder(): Scratch {
  let made: Promise<string> | undefined
  return {
    async write(name, bytes) {
      try {
        made ??= mkdtemp(join(tmpdir(), OWN_TEMPORARY))
        const path = join(await made, name)
        await writeFile(path, bytes)
        return path
      } catch (cause) {
        const report = {
          code: 'store/unreadable',
          what: 'It could not be unpacked to be heard.',
          where: tmpdir(),
          mend: 'Free some room there.',
        }
        throw new AppError(report, { cause })
      }
    },
    async remove() {
      const folder = await made?.catch(() => undefined)
      if (folder !== undefined) await rm(folder, { recursive: true, force: true })
    },
  }
}

async function filesOf(
  { fontName, places, sounds }: EditionToHear,
  scratch: Scratch,
  { store, openFiles }: MeterParts,
  control: RunControl,
): Promise<readonly FileToHear[]> {
  const sizes = new Map(sounds.map(({ sha256, sizeBytes }) => [sha256, sizeBytes]))
  const found = new Map<string, string>()
  for (const sha256 of sizes.keys()) {
    const kept = await store.pathOf(sha256)
    if (kept !== undefined) found.set(sha256, kept)
  }
  const sink = {
    has: (sha256: string) => Promise.resolve(found.has(sha256)),
    keepFile: (path: string, sha256: string) => Promise.resolve(void found.set(sha256, path)),
    keepBytes: async (bytes: Uint8Array, sha256: string) =>
      void found.set(sha256, await scratch.write(sha256, bytes)),
  }
  try {
    await originalsFrom(sink, openFiles).keep(fontName, places, sounds, { ...control, onProgress: () => {} })
  } catch (error) {
    // What is still there can be heard all the same.
    if (!(error instanceof AppError) || error.code !== 'originals/gone') throw error
  }
  return [...found].map(([sha256, path]) => ({ path, sizeBytes: sizes.get(sha256) ?? 0, sha256 }))
}

async function heardIn(
  files: readonly FileToHear[],
  limitHz: number,
  { inspector }: MeterParts,
  control: RunControl,
): Promise<ReadonlyMap<string, SpeakerReadings>> {
  const heard = new Map<string, SpeakerReadings>()
  let done = 0
  const onDone = (index: number, readings: SpeakerReadings | null) => {
    const sha256 = files[index]?.sha256
    if (sha256 !== undefined && readings !== null) heard.set(sha256, readings)
    control.onProgress({
      phase: 'listening through the speaker',
      done: ++done,
      total: files.length,
      unit: 'files',
      current: null,
    })
  }
  await inspector.measureThroughSpeaker(files, limitHz, onDone, control.cancel)
  return heard
}
